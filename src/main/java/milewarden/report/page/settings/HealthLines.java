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
