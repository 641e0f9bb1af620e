/**
 * What is due, for which cause, and what to run next. Rests on what was judged; judges nothing
 * itself, and knows no words.
 */
@NullMarked
package milewarden.verdict.due;

import org.jspecify.annotations.NullMarked;
