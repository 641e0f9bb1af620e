/**
 * The configuration: its file, its rules, its secrets; read whole, with every mistake said at once.
 */
@NullMarked
package milewarden.app.config;

import org.jspecify.annotations.NullMarked;
