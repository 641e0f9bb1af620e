package milewarden.intake.typed;

import java.util.ArrayList;
import java.util.Map;
import java.util.Optional;
import milewarden.course.ReferenceCourse;
import milewarden.store.Tx;
import milewarden.store.run.Courses;
import milewarden.track.SheetRow;
import milewarden.track.TagName;
import milewarden.units.LengthUnit;

/**
 * A reading that a slip of the thumb makes: of another unit, another number of laps, a point
 * forgotten. It is asked about, never left out: with a note it is taken as it is.
 */
final class FarOff {
  static final String SENTENCE =
      "That is more than twice, or less than half, of what the course is long: mend the number, its"
          + " unit or the laps, or say in the note that it is so.";
  // No device that works is off by so much; a forgotten point is off by ten. Common practice, no
  // source.
  private static final double TIMES = 2;

  private FarOff() {}

  static boolean is(Tx tx, SheetRow row) {
    Map<TagName, String> tags = row.tags();
    if (tags.containsKey(TagName.NOTES) || tags.containsKey(TagName.EXCLUDED_REASON)) return false;
    Optional<LengthUnit> unit =
        Optional.ofNullable(tags.get(TagName.SHOWN_UNIT)).flatMap(LengthUnit::of);
    Optional<ReferenceCourse> course =
        Courses.readable(tx, new ArrayList<>()).stream()
            .map(Courses.Known::course)
            .filter(c -> c.slug().text().equalsIgnoreCase(tags.getOrDefault(TagName.COURSE, "")))
            .findFirst();
    if (unit.isEmpty() || course.isEmpty() || !tags.containsKey(TagName.SHOWN)) return false;
    double laps = Double.parseDouble(tags.getOrDefault(TagName.LAPS, "1"));
    double shownM = Double.parseDouble(tags.getOrDefault(TagName.SHOWN, "0")) * unit.get().metres();
    double times = shownM / (laps * course.get().referenceM());
    return times > TIMES || times < 1 / TIMES;
  }
}
