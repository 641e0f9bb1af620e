package milewarden.format.text;

import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.format.fixes.FileHead;
import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.format.fixes.ReadLimits;
import milewarden.format.text.Columns.Role;
import milewarden.track.DeviceClaim;
import milewarden.track.Issue;
import milewarden.track.Track;
import milewarden.track.TrackRead;

/**
 * Tables with a heading that names a latitude and a longitude: cells parted by comma, semicolon,
 * tab or bar, numbers with a point or a comma, the newest row first or last.
 */
public final class CsvReader {
  private static final char[] SEPARATORS = {',', ';', '\t', '|'};

  /** So many lines of a writer's own may stand above the heading: our own bound. */
  private static final int MOST_LINES_BEFORE = 20;

  private final Lines lines;
  private final ReadLimits limits;
  private final IssueLog issues = new IssueLog();
  private final FixBuffer fixes;
  private final CellTime cellTime = new CellTime();
  private final ColumnAnswers answers;
  private Cells cells = new Cells(',');
  private Columns columns = new Columns(List.of());
  private final TwoDates dates = new TwoDates();
  private String segment = "";

  public CsvReader(FileHead head, InputStream rest, ReadLimits limits) {
    this(head, rest, limits, ColumnAnswers.NONE);
  }

  /**
   * @param answers what the tester said of columns that are doubtful
   */
  public CsvReader(FileHead head, InputStream rest, ReadLimits limits, ColumnAnswers answers) {
    this.answers = answers;
    this.limits = limits;
    lines = new Lines(head, rest, limits);
    fixes = new FixBuffer(issues, lines::place);
  }

  /** Whether one of the first lines is the heading of such a table. */
  public static boolean recognises(FileHead head) {
    return head.text().lines().limit(MOST_LINES_BEFORE).anyMatch(l -> heading(l).isPresent());
  }

  /** The separator of a heading that names a place. */
  private static Optional<Character> heading(String line) {
    for (char separator : SEPARATORS)
      if (line.indexOf(separator) >= 0 && new Columns(headings(line, separator)).hasPlace())
        return Optional.of(separator);
    return Optional.empty();
  }

  private static List<String> headings(String line, char separator) {
    Cells cells = new Cells(separator);
    cells.cut(line);
    List<String> headings = new ArrayList<>();
    for (int i = 0; i < cells.count(); i++) headings.add(cells.text(i));
    return headings;
  }

  /**
   * Reads to the end of the file.
   *
   * @throws UncheckedIOException where the stream below fails
   */
  public TrackRead read() {
    try {
      Optional<Issue> unclear = readHeading();
      if (unclear.isPresent()) return new TrackRead.Refused(unclear.get());
      while (lines.next()) {
        if (lines.length() == 0) continue;
        if (fixes.seen() >= limits.fixes())
          return new TrackRead.Refused(
              Issue.at(Issue.Kind.TOO_MANY_FIXES, lines.place(), "more than " + limits.fixes()));
        row();
      }
    } catch (Lines.TooLong e) {
      return new TrackRead.Refused(lines.tooLong(e));
    }
    return finished();
  }

  private Optional<Issue> readHeading() throws Lines.TooLong {
    for (int i = 0; i < MOST_LINES_BEFORE && lines.next(); i++) {
      Optional<Character> separator = heading(lines.text());
      if (separator.isEmpty()) continue;
      cells = new Cells(separator.get());
      columns = new Columns(headings(lines.text(), separator.get()), answers);
      for (String doubtful : columns.doubtful())
        issues.add(Issue.Kind.COLUMN_DOUBTFUL, lines.placeOfNow(), doubtful);
      return columns.twice().map(h -> Issue.at(Issue.Kind.COLUMNS_UNCLEAR, lines.place(), h));
    }
    return Optional.of(Issue.of(Issue.Kind.COLUMNS_UNCLEAR, "no latitude and longitude"));
  }

  private void row() {
    cells.cut(lines);
    fixes.begin();
    int lat = columns.at(Role.LATITUDE);
    int lon = columns.at(Role.LONGITUDE);
    if (cells.isEmpty(lat) || cells.isEmpty(lon)) {
      fixes.drop(Issue.Kind.NO_POSITION, "");
      return;
    }
    double latitude = CellNumber.degrees(cells, lat, "NS", side(Role.LATITUDE_SIDE));
    double longitude = CellNumber.degrees(cells, lon, "EW", side(Role.LONGITUDE_SIDE));
    if (!Double.isFinite(latitude) || !Double.isFinite(longitude)) {
      fixes.drop(
          Issue.Kind.POSITION_NOT_A_NUMBER, cells.text(Double.isFinite(latitude) ? lon : lat));
      return;
    }
    if (!fixes.accepts(latitude, longitude)) return;
    newSegment();
    time();
    int before = fixes.size();
    fixes.add(
        latitude,
        longitude,
        value(Role.HEIGHT, -Double.MAX_VALUE),
        cellTime.dayFirstMs() != Track.NO_TIME ? cellTime.dayFirstMs() : cellTime.monthFirstMs(),
        value(Role.DISTANCE, 0),
        value(Role.SPEED, 0),
        value(Role.CADENCE, 0));
    if (fixes.size() > before) dates.add(cellTime);
  }

  private char side(Role role) {
    int at = columns.at(role);
    return cells.isEmpty(at) ? ' ' : Character.toUpperCase(cells.first(at));
  }

  private void newSegment() {
    int at = columns.at(Role.SEGMENT);
    if (at < 0) return;
    String now = cells.text(at);
    if (!now.equals(segment)) fixes.startSegment();
    segment = now;
  }

  private void time() {
    int at = columns.at(Role.TIME);
    boolean missing;
    if (columns.at(Role.DATE) < 0 && columns.offset().isEmpty()) {
      missing = cells.isEmpty(at);
      if (missing) cellTime.read("");
      else if (cells.areAscii()) cellTime.read(cells.row(), cells.start(at), cells.end(at));
      else cellTime.read(cells.text(at));
    } else {
      String text = dateAndTime();
      missing = text.isEmpty();
      cellTime.read(missing ? "" : withOffset(text));
    }
    if (missing) issues.add(Issue.Kind.TIME_MISSING, lines::place, "");
    else if (!cellTime.readable())
      issues.add(Issue.Kind.TIME_UNREADABLE, lines::place, dateAndTime());
    else if (!cellTime.zoned() && !columns.utc())
      issues.add(Issue.Kind.TIME_WITHOUT_ZONE, lines::place, dateAndTime());
  }

  private String dateAndTime() {
    String date = cells.text(columns.at(Role.DATE));
    String time = cells.text(columns.at(Role.TIME));
    return date.isEmpty() || time.startsWith(date) ? time : (date + " " + time).strip();
  }

  /** A heading may name the zone of all rows. */
  private String withOffset(String text) {
    Optional<String> offset = columns.offset();
    if (offset.isEmpty() || !text.contains(":")) return text;
    boolean zoned = text.endsWith("Z") || text.matches(".*:\\d{2}(?:[.,]\\d+)?\\s*[+-]\\d.*");
    return zoned ? text : text + offset.get();
  }

  /** NaN where the cell is empty; where it is no number, too, and that is said. */
  private double value(Role role, double least) {
    int at = columns.at(role);
    if (cells.isEmpty(at)) return Double.NaN;
    double value = CellNumber.of(cells, at) * columns.factor(role);
    if (Double.isFinite(value) && value >= least) return value;
    Issue.Kind kind =
        role == Role.HEIGHT ? Issue.Kind.HEIGHT_UNREADABLE : Issue.Kind.VALUE_UNREADABLE;
    issues.add(kind, lines::place, cells.text(at));
    return Double.NaN;
  }

  private TrackRead finished() {
    if (fixes.size() == 0) {
      String found = fixes.seen() == 0 ? "no rows" : fixes.seen() + " rows, none with a position";
      return new TrackRead.Refused(Issue.of(Issue.Kind.NO_FIXES, found));
    }
    dates.settle(fixes, issues, answers.monthFirst());
    fixes.oldestFirst();
    Track track = fixes.track("csv", DeviceClaim.NONE, OptionalDouble.empty());
    return new TrackRead.Usable(track, fixes.drops());
  }
}
