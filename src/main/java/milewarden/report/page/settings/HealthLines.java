package milewarden.report.page.settings;

import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.page.Fact;

/** How the server does, in words: what does not work now, and what waits where. */
public final class HealthLines {
  private HealthLines() {}

  /**
   * One queue.
   *
   * @param name of what waits
   * @param oldest since when the first of it waits
   */
  public record Waiting(String name, int length, Optional<Instant> oldest) {}

  /**
   * The reasons that anybody may read who reaches the server: no name of a file, a folder or
   * another server, which those who may come in read on its pages.
   *
   * @param inInbox how many things in the inbox can't be taken in
   * @param copyFailed true where the daily copy could not be made
   */
  public static List<String> publicly(int inInbox, boolean copyFailed) {
    List<String> lines = new ArrayList<>();
    if (inInbox > 0)
      lines.add(
          (inInbox == 1 ? "One thing" : inInbox + " things")
              + " in the inbox can't be taken in: the Intake page says what, and why.");
    if (copyFailed) lines.add("The daily backup was not made: the Settings page says why.");
    return lines;
  }

  /** The same of a store that can't be used. */
  public static final String STORE = "The store can't be used: the server's log says why.";

  /**
   * The lines of the settings page.
   *
   * @param troubles sentences; empty where all works
   */
  public static List<Fact> of(List<Waiting> queues, List<String> troubles, Digits digits) {
    List<Fact> lines = new ArrayList<>();
    for (String trouble : troubles) lines.add(new Fact("trouble", "", trouble));
    for (Waiting q : queues)
      lines.add(
          new Fact(
              q.name(),
              digits.count(q.length()),
              q.oldest().map(at -> "the oldest since " + digits.moment(at)).orElse("")));
    return lines;
  }
}
