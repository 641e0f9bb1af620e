/** Programs of their own, as plain as can be, that starting is held against. */
@NullMarked
package milewarden.benchmark.skeleton;

import org.jspecify.annotations.NullMarked;
