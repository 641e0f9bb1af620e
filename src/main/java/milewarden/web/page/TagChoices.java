package milewarden.web.page;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.device.Rounding;
import milewarden.intake.tag.SettingsAnswer;
import milewarden.report.SettingsWords;
import milewarden.report.Words;
import milewarden.report.page.Option;
import milewarden.store.Tx;
import milewarden.store.run.Courses;
import milewarden.track.TagName;

/** What may be chosen for a tag, wherever one is asked for. */
final class TagChoices {
  private TagChoices() {}

  /** Empty where a tag is in the tester's own words. */
  static List<Option> of(Tx tx, TagName name) {
    return switch (name) {
      case CARRIAGE ->
          Arrays.stream(Carriage.values()).map(c -> new Option(c.code(), Words.of(c))).toList();
      case GAIT ->
          Arrays.stream(Gait.values()).map(g -> new Option(g.code(), Words.of(g))).toList();
      case DIRECTION ->
          Arrays.stream(Direction.values()).map(d -> new Option(d.code(), Words.of(d))).toList();
      case BOUNDS ->
          Arrays.stream(Bounds.values()).map(b -> new Option(b.code(), Words.of(b))).toList();
      case ROUNDING ->
          Arrays.stream(Rounding.values()).map(r -> new Option(r.code(), Words.of(r))).toList();
      case COURSE ->
          Courses.names(tx).entrySet().stream()
              .map(c -> new Option(c.getKey(), c.getValue()))
              .toList();
      case SHOWN_UNIT -> plain("km", "mi", "m", "ft");
      case CONTROL -> plain("yes", "no");
      case ROLE -> plain("test", "reference");
      case SETTINGS_CHECK ->
          Arrays.stream(SettingsAnswer.values())
              .map(a -> new Option(a.code(), SettingsWords.of(a.code())))
              .toList();
      default -> List.of();
    };
  }

  /** As {@link #of}, with what is said now among them, in whatever words it came. */
  static List<Option> with(Tx tx, TagName name, String now) {
    List<Option> options = new ArrayList<>(of(tx, name));
    if (!options.isEmpty()
        && !now.isEmpty()
        && options.stream().noneMatch(o -> o.code().equals(now))) options.add(new Option(now, now));
    return options;
  }

  private static List<Option> plain(String... codes) {
    return Arrays.stream(codes).map(c -> new Option(c, c)).toList();
  }
}
