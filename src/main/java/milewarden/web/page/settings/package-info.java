/** The pages under Settings: mail, people, changes and dry runs. */
@NullMarked
package milewarden.web.page.settings;

import org.jspecify.annotations.NullMarked;
