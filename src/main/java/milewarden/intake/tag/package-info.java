/**
 * What a recording is said to be: tags from the folders' names, the file's claims and the field
 * sheet, settled by the order of their sources and read into what a run needs. Pure: knows no
 * folder and asks no store.
 */
@NullMarked
package milewarden.intake.tag;

import org.jspecify.annotations.NullMarked;
