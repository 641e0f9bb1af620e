/** The JSON interface under /api/v1 with its own records. */
@NullMarked
package milewarden.web.api;

import org.jspecify.annotations.NullMarked;
