/**
 * One record for each page that a tester sees: sentences, rounded figures and the charts' data,
 * made from judged and measured values. Decides nothing.
 */
@NullMarked
package milewarden.report.page;

import org.jspecify.annotations.NullMarked;
