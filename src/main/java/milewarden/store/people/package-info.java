/** The tables of who may come in: people, their sign-ins and tokens. */
@NullMarked
package milewarden.store.people;

import org.jspecify.annotations.NullMarked;
