/** The commands on what a store keeps: ask, plan, publish, check; people and tokens. */
@NullMarked
package milewarden.cli.kept;

import org.jspecify.annotations.NullMarked;
