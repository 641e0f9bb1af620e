/** Messages of what was judged: mail, digest, chat, and what their readers answer. */
@NullMarked
package milewarden.review.tell;

import org.jspecify.annotations.NullMarked;
