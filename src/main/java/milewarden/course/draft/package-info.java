/** A first centreline of a course, drawn from recordings walked along it. */
@NullMarked
package milewarden.course.draft;

import org.jspecify.annotations.NullMarked;
