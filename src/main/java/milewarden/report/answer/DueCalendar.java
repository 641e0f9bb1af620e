package milewarden.report.answer;

import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

/** What is due and when, as a calendar (RFC 5545): things to do, and days. */
public record DueCalendar(List<Task> tasks, List<Day> days) {
  private static final DateTimeFormatter MOMENT =
      DateTimeFormatter.ofPattern("yyyyMMdd'T'HHmmss'Z'", Locale.ROOT).withZone(ZoneOffset.UTC);
  private static final DateTimeFormatter DATE =
      DateTimeFormatter.ofPattern("yyyyMMdd", Locale.ROOT);
  // RFC 5545, section 3.1: a line has at most 75 octets without its break.
  private static final int LINE = 75;

  public DueCalendar {
    tasks = List.copyOf(tasks);
    days = List.copyOf(days);
  }

  /**
   * Something to do.
   *
   * @param name what its id is made of: the same for ever, and of nothing else
   * @param priority 1 is the highest, 9 the lowest
   * @param by the day by which it is to be done, where there is one
   */
  public record Task(
      String name,
      Instant since,
      String title,
      String text,
      String category,
      int priority,
      Optional<LocalDate> by,
      String link) {}

  /** A day on which something happens of itself. */
  public record Day(
      String name, Instant since, LocalDate day, String title, String text, String link) {}

  /** The document. */
  public String text() {
    StringBuilder out = new StringBuilder();
    line(out, "BEGIN:VCALENDAR");
    line(out, "VERSION:2.0");
    line(out, "PRODID:-//Milewarden//Due dates//EN");
    line(out, "CALSCALE:GREGORIAN");
    // RFC 7986, section 5.1.
    line(out, "NAME:Milewarden: due");
    for (Task each : tasks) task(out, each);
    for (Day each : days) day(out, each);
    line(out, "END:VCALENDAR");
    return out.toString();
  }

  private static void task(StringBuilder out, Task task) {
    line(out, "BEGIN:VTODO");
    line(out, "UID:" + id(task.name()));
    line(out, "DTSTAMP:" + MOMENT.format(task.since()));
    line(out, "CREATED:" + MOMENT.format(task.since()));
    line(out, "SUMMARY:" + escaped(task.title()));
    line(out, "DESCRIPTION:" + escaped(task.text()));
    line(out, "CATEGORIES:" + escaped(task.category()));
    line(out, "PRIORITY:" + task.priority());
    line(out, "STATUS:NEEDS-ACTION");
    task.by().ifPresent(by -> line(out, "DUE;VALUE=DATE:" + DATE.format(by)));
    line(out, "URL:" + task.link());
    line(out, "END:VTODO");
  }

  private static void day(StringBuilder out, Day day) {
    line(out, "BEGIN:VEVENT");
    line(out, "UID:" + id(day.name()));
    line(out, "DTSTAMP:" + MOMENT.format(day.since()));
    line(out, "DTSTART;VALUE=DATE:" + DATE.format(day.day()));
    line(out, "SUMMARY:" + escaped(day.title()));
    line(out, "DESCRIPTION:" + escaped(day.text()));
    // Nobody is busy because of it.
    line(out, "TRANSP:TRANSPARENT");
    line(out, "URL:" + day.link());
    line(out, "END:VEVENT");
  }

  private static String id(String name) {
    return UUID.nameUUIDFromBytes(name.getBytes(StandardCharsets.UTF_8)).toString();
  }

  /** Section 3.3.11: text with its four signs escaped; other control characters have no place. */
  static String escaped(String text) {
    return text.replace("\\", "\\\\")
        .replace(";", "\\;")
        .replace(",", "\\,")
        .replaceAll("\\r\\n|[\\r\\n]", "\\\\n")
        .replaceAll("\\p{Cntrl}", " ");
  }

  /** Section 3.1: lines end with CRLF and are folded between characters, never within one. */
  static void line(StringBuilder out, String text) {
    int octets = 0;
    for (int i = 0; i < text.length(); ) {
      int c = text.codePointAt(i);
      int width = new String(Character.toChars(c)).getBytes(StandardCharsets.UTF_8).length;
      if (octets + width > LINE) {
        out.append("\r\n ");
        octets = 1;
      }
      out.appendCodePoint(c);
      octets += width;
      i += Character.charCount(c);
    }
    out.append("\r\n");
  }
}
