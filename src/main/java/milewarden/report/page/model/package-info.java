/**
 * One model over its releases, and one release against another: sentences, tables, charts' data.
 */
@NullMarked
package milewarden.report.page.model;

import org.jspecify.annotations.NullMarked;
