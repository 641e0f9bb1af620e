/** The tables, step by step: their texts, and whether all were taken. */
@NullMarked
package milewarden.store.tables;

import org.jspecify.annotations.NullMarked;
