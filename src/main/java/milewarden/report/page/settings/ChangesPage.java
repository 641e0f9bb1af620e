package milewarden.report.page.settings;

import java.util.List;

/**
 * Who changed what?
 *
 * @param older where the page before is; empty at the end
 */
public record ChangesPage(List<Line> lines, String older) {
  public ChangesPage {
    lines = List.copyOf(lines);
  }

  /** One change. */
  public record Line(String when, String who, String what, String subject, String words) {}
}
