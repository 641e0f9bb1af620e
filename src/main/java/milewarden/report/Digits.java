package milewarden.report;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.text.DecimalFormat;
import java.text.DecimalFormatSymbols;
import java.text.NumberFormat;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.time.format.FormatStyle;
import java.time.temporal.ChronoUnit;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import milewarden.units.LengthRange;
import milewarden.units.LengthUnit;
import milewarden.units.PercentRange;
import milewarden.units.UnitChoice;

/**
 * The one place where a number gets its digits, sign and unit.
 *
 * <p>An error or a change always carries its sign, with the true minus (U+2212); what rounds to
 * zero has none. Digits follow the uncertainty where there is one. What is not known is a word. A
 * space between number and unit does not break.
 */
public final class Digits {
  // A length or a share as findings and reasons are stored, not a speed or a slope.
  private static final Pattern STORED =
      Pattern.compile("(?<![\\w.,])(\\d+(?:,\\d{3})*(?:\\.\\d+)?) (m|km|%)(?![\\w/]| per )");
  private static final double FAR_M = 10_000;
  private static final DateTimeFormatter CLOCK = DateTimeFormatter.ofPattern("HH:mm", Locale.ROOT);

  /** What stands where a figure is missing because nothing was tested. */
  public static final String NOT_TESTED = "not tested";

  /** What stands where a value is not known. */
  public static final String UNKNOWN = "not known";

  private static final char MINUS = '\u2212';
  private static final String NBSP = "\u00a0";
  private static final String PLUS_MINUS = NBSP + "±" + NBSP;
  // Beyond a thousandth of a percent, or a millimetre, no course is measured (common practice, no
  // source).
  private static final int MOST_DECIMALS = 3;
  private static final double[] TENS = {1, 10, 100, 1000, 10_000};
  private static final double SMALL = 1e8;
  private static final double NEAR_HALF = 1e-6;

  // No locale groups fewer digits.
  private static final int UNGROUPED = 3;

  private final UnitChoice units;
  private final Locale locale;
  private final ZoneId zone;
  private final boolean programs;
  private final NumberFormat numerals;
  private final boolean asWritten;
  private final char point;
  private final DateTimeFormatter dates;

  private Digits(UnitChoice units, Locale locale, ZoneId zone, boolean programs) {
    this.units = units;
    this.locale = locale;
    this.zone = zone;
    this.programs = programs;
    this.numerals = NumberFormat.getNumberInstance(locale);
    this.asWritten = numerals instanceof DecimalFormat f && asWritten(f);
    this.point = DecimalFormatSymbols.getInstance(locale).getDecimalSeparator();
    this.dates = DateTimeFormatter.ofLocalizedDate(FormatStyle.MEDIUM).withLocale(locale);
  }

  /** The zone of local times and dates. */
  public ZoneId zone() {
    return zone;
  }

  /** Digits for readers of these units, this locale's numerals and dates, and this time zone. */
  public static Digits of(UnitChoice units, Locale locale, ZoneId zone) {
    return new Digits(units, locale, zone, false);
  }

  /** The same for a reader of other units, numerals and dates. */
  public Digits forReader(UnitChoice reading, Locale numerals) {
    return reading == units && numerals.equals(locale)
        ? this
        : new Digits(reading, numerals, zone, programs);
  }

  /**
   * The same rounding for programs: a decimal point, nothing between thousands, days by ISO 8601
   * and times by RFC 3339.
   */
  public Digits forPrograms() {
    return new Digits(units, Locale.ROOT, zone, true);
  }

  /** Digits beside English words: days stand before months, as on every page and command. */
  public static Digits of(UnitChoice units, ZoneId zone) {
    return of(units, Locale.UK, zone);
  }

  public UnitChoice units() {
    return units;
  }

  public Locale locale() {
    return locale;
  }

  /**
   * Decimals that an expanded uncertainty carries: two significant digits where they begin with 100
   * to 354, else one; 950 to 999 is rounded up and keeps two.
   *
   * @see "Particle Data Group, Review of Particle Physics, Introduction, section Rounding"
   */
  public static int decimalsFor(double uncertainty) {
    if (!(uncertainty > 0) || !Double.isFinite(uncertainty)) return 1;
    int exponent = (int) Math.floor(Math.log10(uncertainty));
    long threeDigits = Math.round(uncertainty / Math.pow(10, exponent - 2));
    // From 950 on rounding up makes the second digit by itself: 0.096 becomes 0.10.
    int decimals = threeDigits <= 354 ? 1 - exponent : -exponent;
    return Math.max(0, Math.min(MOST_DECIMALS, decimals));
  }

  /** A plain number, no sign for positive ones: {@code 1,609.34}. */
  public String number(double value, int decimals) {
    BigDecimal rounded = rounded(value, decimals);
    String text = magnitude(rounded);
    return rounded.signum() < 0 ? MINUS + text : text;
  }

  /** A whole count: {@code 1,024}. */
  public String count(long n) {
    return number(n, 0);
  }

  /** A number with its sign: {@code +1.8}, {@code −0.3}, {@code 0.0}. */
  public String signed(double value, int decimals) {
    BigDecimal rounded = rounded(value, decimals);
    String text = magnitude(rounded);
    if (rounded.signum() == 0) return text;
    return (rounded.signum() < 0 ? MINUS : '+') + text;
  }

  /** An error with one decimal: {@code +1.8 %}. */
  public String percent(double percent) {
    return percent(percent, 1);
  }

  /** An error with given decimals: {@code +1.84 %}. */
  public String percent(double percent, int decimals) {
    return signed(percent, decimals) + NBSP + "%";
  }

  public String percent(OptionalDouble percent) {
    return percent.isPresent() ? percent(percent.getAsDouble()) : UNKNOWN;
  }

  /** An error with its expanded uncertainty: {@code +1.8 % ± 0.4}. */
  public String percentWithin(double percent, double expandedUncertainty) {
    int decimals = decimalsFor(expandedUncertainty);
    if (!(expandedUncertainty > 0) || !Double.isFinite(expandedUncertainty))
      return percent(percent, decimals);
    return percent(percent, decimals) + PLUS_MINUS + number(expandedUncertainty, decimals);
  }

  /** A mean as it stands on every page: {@code mean +1.8 % ± 0.4 (6 sessions)}. */
  public String mean(double percent, double expandedUncertainty, int sessions) {
    return "mean"
        + NBSP
        + percentWithin(percent, expandedUncertainty)
        + " ("
        + sessions(sessions)
        + ")";
  }

  /** {@code 1 session}, {@code 6 sessions}. */
  public String sessions(int n) {
    return counted(n, "session");
  }

  /** A count with its noun, regular plural: {@code 1 run}, {@code 3 runs}. */
  public String counted(long n, String noun) {
    return count(n) + NBSP + noun + (n == 1 ? "" : "s");
  }

  /** A size without sign, such as a limit: {@code 0.5 %}. */
  public String limit(double percent) {
    return trimmed(percent) + NBSP + "%";
  }

  /** A limit on both sides: {@code ±0.5 %}. */
  public String bothSides(double percent) {
    return "±" + limit(percent);
  }

  /** An interval of an error: {@code +1.4 % to +2.2 %}, or its one value. */
  public String interval(PercentRange range) {
    return interval(range.low(), range.high());
  }

  /** An interval of an error; digits follow its half width. */
  public String interval(double low, double high) {
    int decimals = decimalsFor((high - low) / 2);
    String from = percent(low, decimals);
    String to = percent(high, decimals);
    return from.equals(to) ? from : from + " to " + to;
  }

  /** A change of an error, in points of percent: {@code +1.3 points}. */
  public String points(double points) {
    return points(points, 1);
  }

  public String points(double points, int decimals) {
    return signed(points, decimals) + NBSP + "points";
  }

  /** An interval of a change: {@code +0.7 to +1.9 points}. */
  public String pointsInterval(double low, double high) {
    int decimals = decimalsFor((high - low) / 2);
    return signed(low, decimals) + " to " + points(high, decimals);
  }

  /** A size in points without sign: {@code 0.5 points}. */
  public String pointsSize(double points) {
    return trimmed(points) + NBSP + "points";
  }

  /** A probability or a p value: {@code 0.0025}, {@code 0.034}, {@code below 0.001}. */
  public String probability(double p) {
    return p < 0.001
        ? "below" + NBSP + number(0.001, 3)
        : number(p, p < 0.01 ? 4 : p < 0.1 ? 3 : 2);
  }

  /** Degrees of freedom: {@code 18.9}, {@code 240}, or the sign where there is no end of them. */
  public String degreesOfFreedom(double df) {
    if (!(df < 1e6)) return "∞";
    return number(df, df < 100 && df != Math.rint(df) ? 1 : 0);
  }

  /** A distance that was run, in kilometres or miles: {@code 2.41 km}. */
  public String distance(double metres) {
    return distance(metres, 2);
  }

  public String distance(double metres, int decimals) {
    return number(metres / units.road().metres(), decimals) + NBSP + units.road().symbol();
  }

  /** A length on the ground in metres or feet, one decimal: {@code 402.3 m}. */
  public String ground(double metres) {
    return ground(metres, 1);
  }

  public String ground(double metres, int decimals) {
    return number(metres / units.ground().metres(), decimals) + NBSP + units.ground().symbol();
  }

  public String ground(OptionalDouble metres) {
    return metres.isPresent() ? ground(metres.getAsDouble()) : UNKNOWN;
  }

  /** A length on the ground with its expanded uncertainty: {@code 402.34 m ± 0.15}. */
  public String groundWithin(double metres, double expandedUncertaintyM) {
    double unit = units.ground().metres();
    double u = expandedUncertaintyM / unit;
    int decimals = decimalsFor(u);
    String length = number(metres / unit, decimals) + NBSP + units.ground().symbol();
    return u > 0 ? length + PLUS_MINUS + number(u, decimals) : length;
  }

  /**
   * A text that was stored, with the lengths and shares in it ({@code 3219 m}, {@code 4.02 %}: what
   * is stored is metric) in the reader's unit and numerals; beyond 10 km in kilometres or miles.
   */
  public String lengthsIn(String stored) {
    return STORED
        .matcher(stored)
        .replaceAll(
            m -> {
              String number = m.group(1).replace(",", "");
              double value = Double.parseDouble(number);
              int point = number.indexOf('.');
              int decimals = point < 0 ? 0 : number.length() - point - 1;
              if (m.group(2).equals("%")) return number(value, decimals) + NBSP + "%";
              if (m.group(2).equals("km")) return distance(1000 * value, decimals);
              return value >= FAR_M ? distance(value, 0) : ground(value, decimals);
            });
  }

  /** A difference of lengths on the ground, with sign: {@code +4.9 m}. */
  public String change(double metres) {
    return signed(metres / units.ground().metres(), 1) + NBSP + units.ground().symbol();
  }

  /** The same to the hundredth, for sums over a short stretch: {@code +0.31 m}. */
  public String changeFine(double metres) {
    return signed(metres / units.ground().metres(), 2) + NBSP + units.ground().symbol();
  }

  /** A stretch between two places, whole units: {@code 300 to 350 m}. */
  public String groundWhole(double fromM, double toM) {
    double unit = units.ground().metres();
    return number(fromM / unit, 0)
        + " to "
        + number(toM / unit, 0)
        + NBSP
        + units.ground().symbol();
  }

  public String change(OptionalDouble metres) {
    return metres.isPresent() ? change(metres.getAsDouble()) : UNKNOWN;
  }

  /** An interval of differences: {@code −1.5 m to +1.5 m}. */
  public String change(LengthRange range) {
    String from = change(range.lowM());
    String to = change(range.highM());
    return from.equals(to) ? from : from + " to " + to;
  }

  /** What was read off a display, with the digits of its step: {@code 0.27 mi}. */
  public String reading(double value, double step, LengthUnit unit) {
    int decimals = 0;
    for (double s = step; decimals < 4 && Math.abs(s - Math.rint(s)) > 1e-9; s *= 10) decimals++;
    return number(value, decimals) + NBSP + unit.symbol();
  }

  /** What an error of this size comes to on each kilometre or mile: {@code +18 m per km}. */
  public String perRoadUnit(double percent) {
    double metres = percent / 100 * units.road().metres();
    return signed(metres / units.ground().metres(), 0)
        + NBSP
        + units.ground().symbol()
        + " per"
        + NBSP
        + units.road().symbol();
  }

  /** A pace: {@code 4:33 min/km}. @param secondsPerMetre above 0 */
  public String pace(double secondsPerMetre) {
    if (!(secondsPerMetre > 0) || !Double.isFinite(secondsPerMetre)) return UNKNOWN;
    String unit = units == UnitChoice.METRIC ? "min/km" : "min/mile";
    return clock(Math.round(secondsPerMetre * units.road().metres())) + NBSP + unit;
  }

  /** A speed: {@code 12.4 km/h}. */
  public String speed(double metresPerSecond) {
    String unit = units == UnitChoice.METRIC ? "km/h" : "mph";
    return number(metresPerSecond * 3600 / units.road().metres(), 1) + NBSP + unit;
  }

  /** A step of a ladder over a kilometre or a mile: {@code +4.9 m per km}. */
  public String perRoadUnit(double metres, double ofM) {
    return change(metres / ofM * units.road().metres()) + " per" + NBSP + units.road().symbol();
  }

  /** A time that was run: {@code 12:34}, {@code 1:02:03}. */
  public String duration(Duration d) {
    return clock(Math.round(d.toMillis() / 1000.0));
  }

  /** A difference of times with its sign: {@code +2:07}. */
  public String timeChange(double seconds) {
    long s = Math.round(Math.abs(seconds));
    if (s == 0) return clock(0);
    return (seconds < 0 ? MINUS : '+') + clock(s);
  }

  /** A short time in seconds: {@code 1.0 s}. */
  public String seconds(double seconds) {
    return number(seconds, 1) + NBSP + "s";
  }

  /** A day, as this locale writes it: {@code 12 May 2026}. */
  public String date(LocalDate date) {
    if (programs) return date.toString();
    return dates.format(date);
  }

  /** The local day of an instant. */
  public String date(Instant at) {
    if (programs) return moment(at);
    return date(day(at));
  }

  /** The day that an instant lies in where the tester is. */
  public LocalDate day(Instant at) {
    return at.atZone(zone).toLocalDate();
  }

  /** A day and the time to the minute in the reader's zone: {@code 12 May 2026, 07:05}. */
  public String moment(Instant at) {
    if (programs) return at.truncatedTo(ChronoUnit.SECONDS).toString();
    var local = at.atZone(zone);
    return date(local.toLocalDate()) + ", " + CLOCK.format(local);
  }

  private static BigDecimal rounded(double value, int decimals) {
    if (!Double.isFinite(value)) throw new IllegalArgumentException("not a number: " + value);
    if (decimals >= 0 && decimals < TENS.length) {
      double scaled = Math.abs(value) * TENS[decimals];
      double part = scaled - Math.floor(scaled);
      // All digits of a double are asked for only where they may decide: one of this size is known
      // to a tenth of that.
      if (scaled < SMALL && Math.abs(part - 0.5) > NEAR_HALF) {
        long whole = (long) scaled + (part > 0.5 ? 1 : 0);
        return BigDecimal.valueOf(value < 0 ? -whole : whole, decimals);
      }
    }
    return BigDecimal.valueOf(value).setScale(decimals, RoundingMode.HALF_UP);
  }

  /** True where a short number is the ten digits and a point, whichever sign that is. */
  private static boolean asWritten(DecimalFormat format) {
    return format.getDecimalFormatSymbols().getZeroDigit() == '0'
        && format.getPositivePrefix().isEmpty()
        && format.getPositiveSuffix().isEmpty();
  }

  private String magnitude(BigDecimal rounded) {
    String plain = rounded.abs().toPlainString();
    if (programs) return plain;
    // Most numbers are short, and a page has hundreds.
    int whole = rounded.scale() > 0 ? plain.length() - rounded.scale() - 1 : plain.length();
    if (asWritten && whole <= UNGROUPED) return point == '.' ? plain : plain.replace('.', point);
    // A format is nobody's but one thread's, and costs more to make than to copy.
    NumberFormat format = (NumberFormat) numerals.clone();
    format.setMinimumFractionDigits(rounded.scale());
    format.setMaximumFractionDigits(rounded.scale());
    return format.format(rounded.abs());
  }

  /** At least one decimal, and as many as the number has, up to three. */
  private String trimmed(double value) {
    int decimals = 1;
    while (decimals < MOST_DECIMALS
        && Math.abs(value - rounded(value, decimals).doubleValue()) > 1e-9) decimals++;
    return number(value, decimals);
  }

  private static String clock(long seconds) {
    long h = seconds / 3600;
    long m = seconds / 60 % 60;
    long s = seconds % 60;
    // By hand: all that Java formats with would be loaded for it.
    return (h > 0 ? h + ":" + (m < 10 ? "0" : "") : "") + m + ":" + (s < 10 ? "0" : "") + s;
  }
}
