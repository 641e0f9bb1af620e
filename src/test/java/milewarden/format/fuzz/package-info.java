/**
 * Coverage-guided fuzzing of every reader. In a normal build each class reads its seeds and what
 * was once found again (a regression run); with {@code JAZZER_FUZZ=1} it looks for more. Knows
 * nothing of what a file means: only what holds for every file.
 */
@NullMarked
package milewarden.format.fuzz;

import org.jspecify.annotations.NullMarked;
