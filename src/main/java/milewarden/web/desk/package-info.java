/** What every page works with, and what a reader sent. */
@NullMarked
package milewarden.web.desk;

import org.jspecify.annotations.NullMarked;
