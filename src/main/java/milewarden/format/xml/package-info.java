/** Readers of recordings in XML, as streams and by local names whatever the namespace. */
@NullMarked
package milewarden.format.xml;

import org.jspecify.annotations.NullMarked;
