/** All SQL, the migrations and the transactions, on SQLite and on PostgreSQL. Computes nothing. */
@NullMarked
package milewarden.store;

import org.jspecify.annotations.NullMarked;
