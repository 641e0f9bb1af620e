package milewarden.format.xml;

import milewarden.format.fixes.FixBuffer;
import milewarden.format.fixes.IssueLog;
import milewarden.format.fixes.PlainNumber;
import milewarden.track.Issue;
import milewarden.track.Track;

/**
 * A list of positions, {@code longitude,latitude[,height]} with blanks between, in pieces of any
 * size. A blank behind a comma is a slip of many writers and parts nothing.
 */
final class Coordinates {
  private static final int LONGEST = 128;

  private final FixBuffer fixes;
  private final IssueLog issues;
  private final XmlWalk walk;
  private final char[] token = new char[LONGEST];
  private int length;
  private boolean timesSaid;

  Coordinates(FixBuffer fixes, IssueLog issues, XmlWalk walk) {
    this.fixes = fixes;
    this.issues = issues;
    this.walk = walk;
  }

  void piece(char[] buffer, int start, int count) {
    for (int i = start; i < start + count; i++) {
      char c = buffer[i];
      if (c > ' ') {
        if (length < LONGEST) token[length] = c;
        length++;
      } else if (length > 0 && (length > LONGEST || token[length - 1] != ',')) {
        position();
      }
    }
  }

  void end() {
    if (length > 0) position();
  }

  private void position() {
    int n = Math.min(length, LONGEST);
    boolean tooLong = length > LONGEST;
    length = 0;
    fixes.begin();
    walk.checkFixes(fixes.seen());
    int first = comma(0, n);
    int second = comma(first + 1, n);
    double longitude = tooLong ? Double.NaN : PlainNumber.parse(token, 0, first);
    double latitude =
        tooLong || first >= n ? Double.NaN : PlainNumber.parse(token, first + 1, second);
    if (!Double.isFinite(latitude) || !Double.isFinite(longitude)) {
      fixes.drop(Issue.Kind.POSITION_NOT_A_NUMBER, new String(token, 0, n));
      return;
    }
    if (!fixes.accepts(latitude, longitude)) return;
    if (!timesSaid) issues.add(Issue.Kind.TIME_MISSING, walk::line, "a line carries none");
    timesSaid = true;
    fixes.add(
        latitude, longitude, height(second, n), Track.NO_TIME, Double.NaN, Double.NaN, Double.NaN);
  }

  private double height(int second, int n) {
    if (second >= n) return Double.NaN;
    int end = comma(second + 1, n);
    double height = PlainNumber.parse(token, second + 1, end);
    if (Double.isFinite(height)) return height;
    if (end > second + 1)
      issues.add(Issue.Kind.HEIGHT_UNREADABLE, walk::line, new String(token, 0, n));
    return Double.NaN;
  }

  /** The next comma from {@code from}, or {@code n}. */
  private int comma(int from, int n) {
    int i = Math.min(from, n);
    while (i < n && token[i] != ',') i++;
    return i;
  }
}
