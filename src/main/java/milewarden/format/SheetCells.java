package milewarden.format;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeFormatterBuilder;
import java.time.temporal.ChronoField;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.device.Rounding;
import milewarden.track.SheetProblem.Kind;
import milewarden.track.TagName;
import milewarden.units.LengthUnit;

/**
 * Reads the cells of a field sheet into the tag vocabulary.
 *
 * @param decimalComma whether the sheet's own separator leaves the comma to the numbers
 */
record SheetCells(boolean decimalComma) {
  /** A cell as read: a value, or what is wrong with it. */
  record Cell(Optional<String> value, Optional<Kind> problem) {
    static Cell of(String value) {
      return new Cell(Optional.of(value), Optional.empty());
    }

    static Cell wrong(Kind kind) {
      return new Cell(Optional.empty(), Optional.of(kind));
    }
  }

  private static final Pattern NUMBER = Pattern.compile("[+-]?(?:\\d+(?:\\.\\d*)?|\\.\\d+)");
  private static final Pattern DAY_FIRST = Pattern.compile("(\\d{1,2})\\.(\\d{1,2})\\.(\\d{4})");
  private static final Pattern YEAR_FIRST =
      Pattern.compile("(\\d{4})[/.-](\\d{1,2})[/.-](\\d{1,2})");
  private static final Pattern SLASHES = Pattern.compile("(\\d{1,2})[/-](\\d{1,2})[/-](\\d{4})");
  private static final DateTimeFormatter CLOCK =
      new DateTimeFormatterBuilder()
          .appendPattern("H:mm[:ss]")
          .appendFraction(ChronoField.NANO_OF_SECOND, 0, 9, true)
          .toFormatter(Locale.ROOT);

  /** The value of a filled cell in the form of the tag vocabulary. */
  Cell read(TagName tag, String text) {
    return switch (tag) {
      case PASS, LAPS -> whole(text);
      case SHOWN, STANDING_S, FIX_WAIT_S -> number(text, true);
      case SHOWN_STEP -> number(text, false);
      case SHOWN_UNIT -> coded(text, t -> LengthUnit.of(t).map(LengthUnit::symbol));
      case CARRIAGE -> coded(text, t -> Carriage.of(t).map(Carriage::code));
      case GAIT -> coded(text, t -> Gait.of(t).map(Gait::code));
      case DIRECTION -> coded(text, t -> Direction.of(t).map(Direction::code));
      case ROUNDING -> coded(text, t -> Rounding.of(t).map(Rounding::code));
      case BOUNDS -> coded(text, t -> Bounds.of(t).map(Bounds::code));
      case CONTROL -> coded(text, SheetCells::yesOrNo);
      case DATE -> date(text);
      case TIME -> time(text);
      default -> Cell.of(text);
    };
  }

  private static Cell coded(String text, Function<String, Optional<String>> code) {
    return code.apply(text).map(Cell::of).orElseGet(() -> Cell.wrong(Kind.UNKNOWN_CODE));
  }

  private static Optional<String> yesOrNo(String text) {
    return switch (text.toLowerCase(Locale.ROOT)) {
      case "yes", "y", "true", "1", "x" -> Optional.of("yes");
      case "no", "n", "false", "0" -> Optional.of("no");
      default -> Optional.empty();
    };
  }

  private Cell whole(String text) {
    Cell number = number(text, false);
    if (number.value.isEmpty()) return number;
    double value = Double.parseDouble(number.value.get());
    return value == Math.rint(value) && value <= 1_000_000
        ? Cell.of(Long.toString((long) value))
        : Cell.wrong(Kind.NOT_A_NUMBER);
  }

  /** A number with its decimals as written: they tell the display's step. */
  private Cell number(String text, boolean zeroAllowed) {
    Optional<String> plain = withPoint(text);
    if (plain.isEmpty() || !NUMBER.matcher(plain.get()).matches())
      return Cell.wrong(Kind.NOT_A_NUMBER);
    double value = Double.parseDouble(plain.get());
    if (!Double.isFinite(value)) return Cell.wrong(Kind.NOT_A_NUMBER);
    if (value < 0 || value == 0 && !zeroAllowed) return Cell.wrong(Kind.NEGATIVE_NUMBER);
    return Cell.of(plain.get());
  }

  /** The number with a point for its comma; empty where the comma may part thousands. */
  private Optional<String> withPoint(String text) {
    int comma = text.indexOf(',');
    if (comma < 0) return Optional.of(text);
    if (text.indexOf('.') >= 0 || text.indexOf(',', comma + 1) >= 0) return Optional.empty();
    boolean thousands = !decimalComma && text.length() - comma - 1 == 3;
    return thousands ? Optional.empty() : Optional.of(text.replace(',', '.'));
  }

  private static Cell date(String text) {
    Matcher year = YEAR_FIRST.matcher(text);
    if (year.matches()) return day(year.group(1), year.group(2), year.group(3));
    Matcher dots = DAY_FIRST.matcher(text);
    if (dots.matches()) return day(dots.group(3), dots.group(2), dots.group(1));
    Matcher slashes = SLASHES.matcher(text);
    if (!slashes.matches()) return Cell.wrong(Kind.BAD_DATE);
    // 25/11 or 11/25 can be one thing only; 5/12 is a day in May or in December.
    int first = Integer.parseInt(slashes.group(1));
    int second = Integer.parseInt(slashes.group(2));
    if (first <= 12 && second <= 12 && first != second) return Cell.wrong(Kind.AMBIGUOUS_DATE);
    return first > 12
        ? day(slashes.group(3), slashes.group(2), slashes.group(1))
        : day(slashes.group(3), slashes.group(1), slashes.group(2));
  }

  private static Cell day(String year, String month, String day) {
    try {
      return Cell.of(
          LocalDate.of(Integer.parseInt(year), Integer.parseInt(month), Integer.parseInt(day))
              .toString());
    } catch (DateTimeException e) {
      return Cell.wrong(Kind.BAD_DATE);
    }
  }

  private static Cell time(String text) {
    try {
      return Cell.of(LocalTime.parse(text, CLOCK).format(DateTimeFormatter.ISO_LOCAL_TIME));
    } catch (DateTimeException e) {
      return Cell.wrong(Kind.BAD_TIME);
    }
  }
}
