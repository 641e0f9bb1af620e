package milewarden.report.page;

import java.util.List;

/** How did they do side by side? All devices of an outing. */
public record SessionPage(String name, String sentence, String when, List<Row> rows) {
  public SessionPage {
    rows = List.copyOf(rows);
  }

  /** A pass of a device. */
  public record Row(
      String unit,
      String model,
      String modelLink,
      String firmware,
      String course,
      String pass,
      String link,
      String reference,
      String shown,
      String shownError,
      String recorded,
      String recordedError,
      String track,
      String trackError,
      String remark,
      boolean counts) {}
}
