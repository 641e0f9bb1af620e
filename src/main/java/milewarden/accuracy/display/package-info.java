/** Which rule a display follows, from its readings and the device's own distances. */
@NullMarked
package milewarden.accuracy.display;

import org.jspecify.annotations.NullMarked;
