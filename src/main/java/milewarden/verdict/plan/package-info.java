/**
 * A campaign before it begins: how many sessions and which courses it needs, the plan that is
 * locked by its first file, and what was done otherwise. Judges nothing, knows no words.
 */
@NullMarked
package milewarden.verdict.plan;

import org.jspecify.annotations.NullMarked;
