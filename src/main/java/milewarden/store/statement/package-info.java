/** How the texts of statements are taken apart, where they are plain. */
@NullMarked
package milewarden.store.statement;

import org.jspecify.annotations.NullMarked;
