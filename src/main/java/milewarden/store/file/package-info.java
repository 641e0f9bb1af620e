/** The tables of what was taken in: received files, their bytes, tags and sheet rows. */
@NullMarked
package milewarden.store.file;

import org.jspecify.annotations.NullMarked;
