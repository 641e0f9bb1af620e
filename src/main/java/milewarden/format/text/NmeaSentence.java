package milewarden.format.text;

import milewarden.format.fixes.PlainNumber;

/**
 * One sentence of NMEA 0183, cut into its fields in the line's own buffer.
 *
 * <p>{@code $GPRMC,...*6A}: a talker of two letters, a kind of three, fields between commas, and
 * the exclusive or of all signs between {@code $} and {@code *} in two hexadecimal digits.
 *
 * @see "NMEA 0183; the checksum and the forms of positions as widely published"
 */
final class NmeaSentence {
  /** What a line is, before its fields are looked at. */
  enum Form {
    SENTENCE,
    NO_SENTENCE,
    DAMAGED
  }

  /** Sentences that tell of a place or a date. */
  enum Kind {
    RMC,
    GGA,
    GNS,
    ZDA,
    OTHER;

    static Kind of(char a, char b, char c) {
      if (a == 'R' && b == 'M' && c == 'C') return RMC;
      if (a == 'G' && b == 'G' && c == 'A') return GGA;
      if (a == 'G' && b == 'N' && c == 'S') return GNS;
      return a == 'Z' && b == 'D' && c == 'A' ? ZDA : OTHER;
    }
  }

  private static final int MOST_FIELDS = 64;

  private char[] line = {};
  private final int[] starts = new int[MOST_FIELDS + 1];
  private int fields;

  /** Takes a line in; whatever stands before the {@code $} is a log's own. */
  Form take(char[] chars, int length) {
    int start = 0;
    while (start < length && chars[start] != '$') start++;
    if (start + 6 >= length) return start < length ? Form.DAMAGED : Form.NO_SENTENCE;
    int star = start + 1;
    int sum = 0;
    int cut = 0;
    starts[0] = star;
    for (; star < length && chars[star] != '*'; star++) {
      sum ^= chars[star];
      if (chars[star] == ',' && cut < MOST_FIELDS) starts[++cut] = star + 1;
    }
    if (star < length && !sumIs(chars, star + 1, length, sum)) return Form.DAMAGED;
    if (cut < MOST_FIELDS) starts[++cut] = star + 1;
    line = chars;
    fields = cut;
    return Form.SENTENCE;
  }

  private static boolean sumIs(char[] chars, int at, int length, int sum) {
    return at + 2 <= length
        && Character.digit(chars[at], 16) == sum >> 4
        && Character.digit(chars[at + 1], 16) == (sum & 0xf);
  }

  /** What a satellite system says in it; another talker's sentence is none of these. */
  Kind kind() {
    int at = starts[0];
    if (starts[1] - 1 - at != 5 || !satellites(line[at], line[at + 1])) return Kind.OTHER;
    return Kind.of(line[at + 2], line[at + 3], line[at + 4]);
  }

  /** GP, GN, GL, GA, GB, BD and the regional GQ, GI. */
  private static boolean satellites(char a, char b) {
    return a == 'G' ? "PNLABQI".indexOf(b) >= 0 : a == 'B' && b == 'D';
  }

  boolean isEmpty(int field) {
    return field >= fields || starts[field + 1] - 1 <= starts[field];
  }

  /** The first sign of a field; a blank where it is empty. */
  char sign(int field) {
    return isEmpty(field) ? ' ' : line[starts[field]];
  }

  /** NaN where the field is empty or no number. */
  double number(int field) {
    return isEmpty(field)
        ? Double.NaN
        : PlainNumber.parse(line, starts[field], starts[field + 1] - 1);
  }

  /** Degrees of {@code ddmm.mmm} with its letter behind it; NaN where it is none. */
  double degrees(int field, char positive, char negative) {
    double value = number(field);
    double whole = Math.floor(value / 100);
    double minutes = value - whole * 100;
    char side = sign(field + 1);
    boolean fine = value >= 0 && minutes < 60 && (side == positive || side == negative);
    if (!fine) return Double.NaN;
    double degrees = whole + minutes / 60;
    return side == negative ? -degrees : degrees;
  }

  /** Milliseconds of the day of {@code hhmmss.sss}; -1 where it is none. */
  int timeOfDayMs(int field) {
    int plain = plainTimeMs(field);
    if (plain >= 0) return plain;
    double value = number(field);
    if (!(value >= 0 && value < 240_000)) return -1;
    int whole = (int) value;
    int hour = whole / 10_000;
    int minute = whole / 100 % 100;
    // A leap second counts as the second behind it.
    double second = value - hour * 10_000.0 - minute * 100.0;
    if (minute > 59 || second >= 61) return -1;
    return (hour * 60 + minute) * 60_000 + (int) Math.round(second * 1000);
  }

  /** Six digits and up to three decimals, as most write it; -1 where it is anything else. */
  private int plainTimeMs(int field) {
    if (isEmpty(field)) return -1;
    int at = starts[field];
    int length = starts[field + 1] - 1 - at;
    if (length != 6 && (length < 8 || length > 10 || line[at + 6] != '.')) return -1;
    int ms = 0;
    for (int i = 7; i < 10; i++) {
      int d = i < length ? line[at + i] - '0' : 0;
      if (d < 0 || d > 9) return -1;
      ms = ms * 10 + d;
    }
    int hour = two(at);
    int minute = two(at + 2);
    int second = two(at + 4);
    boolean plain = hour >= 0 && hour <= 23 && minute >= 0 && minute <= 59;
    if (!plain || second < 0 || second > 60) return -1;
    return ((hour * 60 + minute) * 60 + second) * 1000 + ms;
  }

  /** Six digits and nothing else, {@code ddmmyy}; -1 where the field is anything else. */
  int sixDigits(int field) {
    int at = starts[Math.min(field, fields)];
    if (isEmpty(field) || starts[field + 1] - 1 - at != 6) return -1;
    int a = two(at);
    int b = two(at + 2);
    int c = two(at + 4);
    return a < 0 || b < 0 || c < 0 ? -1 : (a * 100 + b) * 100 + c;
  }

  /** Two digits; negative where they are none. */
  private int two(int at) {
    int tens = line[at] - '0';
    int ones = line[at + 1] - '0';
    return tens < 0 || tens > 9 || ones < 0 || ones > 9 ? -1 : tens * 10 + ones;
  }
}
