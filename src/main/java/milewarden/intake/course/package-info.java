/**
 * Changing reference courses: a form's words to the next version of a course file, tried first,
 * then written into the courses' folder, which stays the truth.
 */
@NullMarked
package milewarden.intake.course;

import org.jspecify.annotations.NullMarked;
