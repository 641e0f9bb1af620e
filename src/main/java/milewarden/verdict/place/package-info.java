/**
 * Where along a course releases differ, and whether the device, the day or the course did it. Works
 * on the excess length per 10 m of chainage; decides no outcome, knows no words.
 */
@NullMarked
package milewarden.verdict.place;

import org.jspecify.annotations.NullMarked;
