/** What is planned, drafted and published about a model, for the reader of the page. */
@NullMarked
package milewarden.report.page.verdict;

import org.jspecify.annotations.NullMarked;
