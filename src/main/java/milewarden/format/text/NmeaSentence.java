package milewarden.format.text;

import milewarden.format.fixes.EightBytes;
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

    static Kind of(byte a, byte b, byte c) {
      if (a == 'R' && b == 'M' && c == 'C') return RMC;
      if (a == 'G' && b == 'G' && c == 'A') return GGA;
      if (a == 'G' && b == 'N' && c == 'S') return GNS;
      return a == 'Z' && b == 'D' && c == 'A' ? ZDA : OTHER;
    }
  }

  // None behind the tenth is asked for.
  private static final int MOST_FIELDS = 10;

  private static final double MOST_OF_INT = 1e9;

  // What a digit of one, two and three decimals of a second is worth in milliseconds.
  private static final int[] MS = {0, 100, 10, 1};
  private static final long COMMAS = EightBytes.each(',');
  private static final long STARS = EightBytes.each('*');

  private byte[] line = {};
  private final int[] starts = new int[MOST_FIELDS + 1];
  private int fields;
  private int star;

  /** Takes a line in; whatever stands before the {@code $} is a log's own. */
  Form take(Lines lines) {
    char[] signs = lines.signs();
    line = lines.bytes();
    int end = lines.stop();
    int start = lines.start();
    while (start < end && line[start] != '$') start++;
    if (start + 6 >= end) return start < end ? Form.DAMAGED : Form.NO_SENTENCE;
    int sum = cut(start + 1, end);
    if (signs.length > 0) sum = sum(signs, start + 1);
    if (star == end) return Form.SENTENCE;
    boolean whole = signs.length > 0 ? sumIs(signs, end, sum) : sumIs(end, sum);
    return whole ? Form.SENTENCE : Form.DAMAGED;
  }

  /** Cuts the fields and finds the star, or the end; the sum of the bytes before it. */
  private int cut(int start, int end) {
    long sums = 0;
    int cut = 0;
    star = end;
    starts[0] = start;
    // By 64 signs, so that nearly all lines have the same number of steps.
    for (int i = start; i < end && star == end; i += 64) {
      long commas = 0;
      int stop = Math.min(i + 64, end);
      for (int k = i; k < stop && star == end; k += 8) {
        long eight = EightBytes.of(line, k, end);
        long found = EightBytes.where(eight, COMMAS);
        long stars = EightBytes.where(eight, STARS);
        if (stars != 0) {
          star = k + EightBytes.first(stars);
          found &= EightBytes.before(stars);
          eight &= EightBytes.before(stars);
        }
        sums ^= eight;
        commas |= EightBytes.bits(found) << k - i;
      }
      for (; commas != 0 && cut < MOST_FIELDS; commas &= commas - 1)
        starts[++cut] = i + Long.numberOfTrailingZeros(commas) + 1;
    }
    if (cut < MOST_FIELDS) starts[++cut] = star + 1;
    fields = cut;
    return EightBytes.exclusiveOr(sums);
  }

  private boolean sumIs(int end, int sum) {
    return star + 3 <= end
        && Character.digit((char) line[star + 1], 16) == sum >> 4
        && Character.digit((char) line[star + 2], 16) == (sum & 0xf);
  }

  /** Where signs beyond ASCII may be among them. */
  private int sum(char[] signs, int start) {
    int sum = 0;
    for (int i = start; i < star; i++) sum ^= signs[i];
    return sum;
  }

  private boolean sumIs(char[] signs, int end, int sum) {
    return star + 3 <= end
        && Character.digit(signs[star + 1], 16) == sum >> 4
        && Character.digit(signs[star + 2], 16) == (sum & 0xf);
  }

  /** What a satellite system says in it; another talker's sentence is none of these. */
  Kind kind() {
    int at = starts[0];
    if (starts[1] - 1 - at != 5 || !satellites(line[at], line[at + 1])) return Kind.OTHER;
    return Kind.of(line[at + 2], line[at + 3], line[at + 4]);
  }

  /** GP, GN, GL, GA, GB, BD and the regional GQ, GI. */
  private static boolean satellites(byte a, byte b) {
    return a == 'G' ? "PNLABQI".indexOf(b) >= 0 : a == 'B' && b == 'D';
  }

  boolean isEmpty(int field) {
    return field >= fields || starts[field + 1] - 1 <= starts[field];
  }

  /** The first sign of a field; a blank where it is empty. */
  char sign(int field) {
    return isEmpty(field) ? ' ' : (char) line[starts[field]];
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
    // The same as without the short way: below a multiple of 100 no quotient is rounded up to it,
    // since doubles lie closer by there than a hundredth of those around the multiple.
    double whole = value < MOST_OF_INT ? (int) value / 100 : Math.floor(value / 100);
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
    int end = starts[field + 1] - 1;
    int decimals = end - at - 7;
    boolean whole = decimals == -1;
    if (!whole && (decimals < 1 || decimals > 3 || line[at + 6] != '.')) return -1;
    long time = EightBytes.digits(EightBytes.of(line, at, end), 6);
    long ms =
        whole ? 0 : EightBytes.digits(EightBytes.of(line, at + 7, end), decimals) * MS[decimals];
    if (time < 0 || ms < 0) return -1;
    int hour = (int) time / 10_000;
    int minute = (int) time / 100 % 100;
    int second = (int) time % 100;
    if (hour > 23 || minute > 59 || second > 60) return -1;
    return ((hour * 60 + minute) * 60 + second) * 1000 + (int) ms;
  }

  /**
   * The six signs of a field of six, as one number that tells whether they are the same; else 0.
   */
  long sixSigns(int field) {
    int at = starts[field];
    boolean six = field < fields && starts[field + 1] - 1 - at == 6;
    return six ? EightBytes.of(line, at, at + 6) : 0;
  }

  /** Six digits and nothing else, {@code ddmmyy}; -1 where the field is anything else. */
  int sixDigits(int field) {
    if (isEmpty(field) || starts[field + 1] - 1 - starts[field] != 6) return -1;
    return (int) EightBytes.digits(EightBytes.of(line, starts[field], starts[field] + 6), 6);
  }
}
