package milewarden.intake.typed;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import milewarden.course.ReferenceCourse;
import milewarden.store.Tx;
import milewarden.store.run.Courses;
import milewarden.track.SheetRow;
import milewarden.track.TagName;
import milewarden.units.LengthUnit;

/**
 * A reading that a slip of the thumb makes: of another unit, another number of laps, a point
 * forgotten. It is asked about where it is typed, remarked on in a sheet, never left out: with a
 * note it is taken as it is.
 */
public final class FarOff {
  static final String SENTENCE =
      "That is more than twice, or less than half, of what the course is long: mend the number, its"
          + " unit or the laps, or say in the note that it is so.";
  // No device that works is off by so much; a forgotten point is off by ten. Common practice, no
  // source.
  private static final double TIMES = 2;

  private FarOff() {}

  static boolean is(Tx tx, SheetRow row) {
    return is(
        course(Courses.readable(tx, new ArrayList<>()).stream().map(k -> k.course()), row), row);
  }

  /** Whether a row's reading is of another order than the course that the row names. */
  public static boolean is(List<ReferenceCourse> courses, SheetRow row) {
    Optional<ReferenceCourse> course = course(courses.stream(), row);
    // How many laps a recording has is counted in it, where nobody says so.
    boolean counted = row.file().isPresent() && !row.tags().containsKey(TagName.LAPS);
    return is(course.filter(c -> !counted || !c.closed()), row);
  }

  private static Optional<ReferenceCourse> course(Stream<ReferenceCourse> courses, SheetRow row) {
    String slug = row.tags().getOrDefault(TagName.COURSE, "");
    return courses.filter(c -> c.slug().text().equalsIgnoreCase(slug)).findFirst();
  }

  private static boolean is(Optional<ReferenceCourse> course, SheetRow row) {
    Map<TagName, String> tags = row.tags();
    if (tags.containsKey(TagName.NOTES) || tags.containsKey(TagName.EXCLUDED_REASON)) return false;
    Optional<LengthUnit> unit =
        Optional.ofNullable(tags.get(TagName.SHOWN_UNIT)).flatMap(LengthUnit::of);
    OptionalDouble shown = number(tags, TagName.SHOWN);
    if (unit.isEmpty() || course.isEmpty() || shown.isEmpty()) return false;
    double shownM = shown.getAsDouble() * unit.get().metres();
    double times = shownM / (number(tags, TagName.LAPS).orElse(1) * course.get().referenceM());
    return times > TIMES || times < 1 / TIMES;
  }

  // What is no number is asked for elsewhere.
  private static OptionalDouble number(Map<TagName, String> tags, TagName name) {
    try {
      return tags.containsKey(name)
          ? OptionalDouble.of(Double.parseDouble(tags.get(name)))
          : OptionalDouble.empty();
    } catch (NumberFormatException e) {
      return OptionalDouble.empty();
    }
  }
}
