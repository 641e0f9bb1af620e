/**
 * Values into rounded and worded records: pages, e-mails and reports take their words, digits and
 * charts' data from here. Decides nothing.
 */
@NullMarked
package milewarden.report;

import org.jspecify.annotations.NullMarked;
