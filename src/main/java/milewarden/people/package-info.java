/**
 * Who may do what: roles, names, passphrases, random secrets, and how often something may be tried.
 * Knows no store, no request and no clock; sole importer of the library that hashes passphrases.
 */
@NullMarked
package milewarden.people;

import org.jspecify.annotations.NullMarked;
