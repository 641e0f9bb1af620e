package milewarden.format.measured;

/**
 * One line of a field sheet as it was written; empty text where nothing was.
 *
 * @param item what it is: {@code before}, {@code calibration_m}, ...
 * @param value of an item that is no ride
 * @param start of a ride: the counter
 * @param end of a ride: the counter
 * @param turns how often the counter began again between them
 * @param temperature in degrees Celsius
 * @param note free words; the name of another contribution
 * @param place for people: {@code line 7}, {@code ride before 2}
 */
public record SheetLine(
    String item,
    String value,
    String start,
    String end,
    String turns,
    String temperature,
    String note,
    String place) {

  /** Whether it says more than its item and a note. */
  boolean isFilled() {
    return !(value + start + end + turns + temperature).isBlank();
  }

  /** An item with its one value. */
  public static SheetLine item(String item, String value, String place) {
    return new SheetLine(item, value, "", "", "", "", "", place);
  }
}
