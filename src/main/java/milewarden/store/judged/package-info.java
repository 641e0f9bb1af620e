/** The tables of what was decided: judgements, due items, plans, published verdicts, marks. */
@NullMarked
package milewarden.store.judged;

import org.jspecify.annotations.NullMarked;
