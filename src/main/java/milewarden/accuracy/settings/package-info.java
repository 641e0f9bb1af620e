/** Whether a recording was made with the settings that its tester says. */
@NullMarked
package milewarden.accuracy.settings;

import org.jspecify.annotations.NullMarked;
