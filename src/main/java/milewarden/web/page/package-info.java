/** HTML pages: reads a request, asks one thing, renders one record. */
@NullMarked
package milewarden.web.page;

import org.jspecify.annotations.NullMarked;
