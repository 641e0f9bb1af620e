/** The store as a whole: checked, copied, moved to another database, brought back. */
@NullMarked
package milewarden.store.keep;

import org.jspecify.annotations.NullMarked;
