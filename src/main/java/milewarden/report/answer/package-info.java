/**
 * What is told to programs: values with their names and no words but the reasons, the same for the
 * commands' {@code --json} and for the API. Numbers are not rounded.
 */
@NullMarked
package milewarden.report.answer;

import org.jspecify.annotations.NullMarked;
