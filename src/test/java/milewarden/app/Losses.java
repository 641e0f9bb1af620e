package milewarden.app;

import jakarta.mail.internet.MimeMessage;
import java.time.InstantSource;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import milewarden.store.Database;
import milewarden.store.StoreSettings;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.keep.StoreCheck;
import milewarden.store.keep.StoreFinding;
import milewarden.store.run.Runs;
import milewarden.store.told.Outbox;

/** What is missing, doubled or wrong after the faults; a sentence for each. */
final class Losses {
  private static final int ALL = 100_000;

  private final List<String> found = new ArrayList<>();

  private Losses() {}

  /**
   * @param dropped the last content that was put under each path
   * @param mail all that arrived
   */
  static List<String> of(
      Household house, Map<String, byte[]> dropped, Database database, List<MimeMessage> mail)
      throws Exception {
    Losses losses = new Losses();
    losses.files(dropped, database);
    losses.runs(dropped, database);
    losses.messages(database, mail);
    if (!house.files("inbox").isEmpty()) losses.found.add("The inbox is not empty.");
    StoreCheck.Checked checked =
        StoreCheck.check(StoreSettings.in(house.data), InstantSource.system());
    checked.findings().stream().map(StoreFinding::what).forEach(losses.found::add);
    return losses.found;
  }

  private void files(Map<String, byte[]> dropped, Database database) {
    List<Received> rows =
        database.read(tx -> ReceivedFiles.page(tx, Optional.empty(), Optional.empty(), ALL));
    Map<String, Integer> times = new HashMap<>();
    for (Received row : rows) {
      times.merge(row.path() + " " + row.sha256(), 1, Integer::sum);
      row.reason()
          .filter(r -> r.code().equals("stumbled"))
          .ifPresent(r -> found.add(row.path() + ": " + r.sentence()));
    }
    times.forEach((file, n) -> note(n == 1, file + " was taken in " + n + " times."));
    dropped.forEach(
        (path, bytes) -> {
          String hash = Contents.sha256(bytes);
          note(times.containsKey(path + " " + hash), path + " is not in the store.");
          Optional<byte[]> kept = database.read(tx -> Contents.bytes(tx, hash));
          note(kept.filter(k -> java.util.Arrays.equals(k, bytes)).isPresent(), path + ": bytes");
        });
  }

  private void runs(Map<String, byte[]> dropped, Database database) {
    Map<String, Integer> counting = new HashMap<>();
    for (Runs.Run run : database.read(tx -> Runs.page(tx, ALL, 0)))
      if (run.heldFor().isEmpty()) counting.merge(run.sessionName(), 1, Integer::sum);
    for (String path : dropped.keySet()) {
      if (!path.endsWith(".gpx")) continue;
      String session = "S" + path.replaceAll(".* (\\d+)[.]gpx", "$1");
      int n = counting.getOrDefault(session, 0);
      note(n == 1, "The run of " + session + " counts " + n + " times.");
    }
  }

  /** The Message-ID of each, once. */
  static Set<String> ids(List<MimeMessage> mail) throws Exception {
    Set<String> ids = new HashSet<>();
    for (MimeMessage message : mail) ids.add(bare(message.getMessageID()));
    return ids;
  }

  private void messages(Database database, List<MimeMessage> mail) throws Exception {
    Set<String> arrived = ids(mail);
    List<Outbox.Message> rows = database.read(tx -> Outbox.page(tx, Optional.empty(), ALL));
    note(!rows.isEmpty(), "There was nothing to tell.");
    Set<String> known = new HashSet<>();
    for (Outbox.Message row : rows) {
      known.add(bare(row.messageId()));
      note(arrived.contains(bare(row.messageId())), row.subject() + " did not arrive.");
    }
    for (String id : arrived) note(known.contains(id), id + " is no message of the store.");
  }

  private static String bare(String id) {
    return id.replaceAll("[<>]", "");
  }

  private void note(boolean right, String otherwise) {
    if (!right) found.add(otherwise);
  }
}
