/** What a dry run would move, and what a capsule holds, in words. It decides nothing. */
@NullMarked
package milewarden.report.trial;

import org.jspecify.annotations.NullMarked;
