/** The rules and the household: policy, mail and messages, people and log-in, changes, health. */
@NullMarked
package milewarden.report.page.settings;

import org.jspecify.annotations.NullMarked;
