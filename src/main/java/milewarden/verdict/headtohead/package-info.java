/** Models held against each other on the courses and in the conditions that they have in common. */
@NullMarked
package milewarden.verdict.headtohead;

import org.jspecify.annotations.NullMarked;
