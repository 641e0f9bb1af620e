/** The HTTP server: routes, security headers, sessions and forms. Computes nothing. */
@NullMarked
package milewarden.web;

import org.jspecify.annotations.NullMarked;
