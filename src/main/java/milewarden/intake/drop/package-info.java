/**
 * Files that stood still in the drop folder, that came as an upload or lie in a folder to be taken
 * in once: their bytes come into the store, and out of the folder. Doesn't know what a recording
 * says.
 */
@NullMarked
package milewarden.intake.drop;

import org.jspecify.annotations.NullMarked;
