package milewarden.web.api;

import java.time.Instant;
import java.util.Locale;
import milewarden.store.ChangeRecord;

/**
 * Who changed what.
 *
 * @param who a person's name, {@code token NAME}, {@code this machine}, {@code command line} or
 *     {@code the server}
 */
record ChangeRow(long id, Instant at, String who, String what, String subject, String words) {
  static ChangeRow of(ChangeRecord.Change c) {
    return new ChangeRow(
        c.id(),
        c.at(),
        c.actor().words(),
        c.what().name().toLowerCase(Locale.ROOT),
        c.subject(),
        c.words());
  }
}
