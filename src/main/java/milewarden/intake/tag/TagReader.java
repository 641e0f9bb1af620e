package milewarden.intake.tag;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import milewarden.course.Bounds;
import milewarden.course.Direction;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.device.Reading;
import milewarden.format.text.ColumnAnswers;
import milewarden.intake.tag.TagSettling.Held;
import milewarden.intake.tag.TagSettling.Settled;
import milewarden.track.TagName;
import milewarden.verdict.PassEvidence.Exclusion;

/** Understands settled tags; whatever is missing or not understood becomes a gap. */
public final class TagReader {
  private final Settled settled;
  private final List<Gap> gaps = new ArrayList<>();

  private TagReader(Settled settled) {
    this.settled = settled;
  }

  /** Reads the tags of a recording, or of a row with a shown distance alone. */
  public static TagReading read(Settled settled) {
    TagReader reader = new TagReader(settled);
    Optional<RunTags> tags = reader.tags();
    return tags.isPresent() && reader.gaps.isEmpty()
        ? new TagReading.Complete(tags.get())
        : new TagReading.Incomplete(reader.gaps);
  }

  /** What a recording of these words is asked for; empty where nothing. */
  public static List<Gap> gaps(Settled settled) {
    return read(settled).fold(c -> List.of(), i -> i.gaps());
  }

  private Optional<RunTags> tags() {
    Optional<String> unit = needed(TagName.UNIT, Optional::of);
    Optional<String> firmware = needed(TagName.FIRMWARE, Optional::of);
    Optional<String> course = needed(TagName.COURSE, t -> Optional.of(t.toLowerCase(Locale.ROOT)));
    Optional<Carriage> carriage = needed(TagName.CARRIAGE, Carriage::of);
    Optional<Gait> gait = needed(TagName.GAIT, Gait::of);
    Optional<Direction> direction = given(TagName.DIRECTION, Direction::of);
    Optional<Integer> laps = given(TagName.LAPS, TagReader::count);
    Optional<Bounds> bounds = given(TagName.BOUNDS, Bounds::of);
    Optional<LocalDate> date = given(TagName.DATE, t -> parse(t, LocalDate::parse));
    Optional<LocalTime> time = given(TagName.TIME, t -> parse(t, LocalTime::parse));
    Optional<Boolean> control = given(TagName.CONTROL, TagReader::yesOrNo);
    Optional<SettingsAnswer> answer = given(TagName.SETTINGS_CHECK, SettingsAnswer::of);
    given(TagName.ROLE, Role::of);
    given(TagName.CLOCK, ClockAnswer::of);
    given(TagName.COLUMNS, ColumnAnswers::of);
    List<Reading> shown = shown();
    Map<Integer, LeftOut> excluded = excluded();
    if (unit.isEmpty() || firmware.isEmpty() || course.isEmpty()) return Optional.empty();
    if (carriage.isEmpty() || gait.isEmpty()) return Optional.empty();
    return Optional.of(
        new RunTags(
            unit.get(),
            model(unit.get()),
            firmware.get(),
            course.get(),
            carriage.get(),
            gait.get(),
            direction,
            laps.map(OptionalInt::of).orElse(OptionalInt.empty()),
            bounds,
            shown,
            settings(),
            settled.value(TagName.SESSION),
            date,
            time,
            control,
            settled.value(TagName.OPERATOR),
            settled.value(TagName.NOTES),
            excluded,
            answer));
  }

  // A bare name is a unit with a model of the same name; and what a file claims says nothing about
  // a unit that the tester named.
  private String model(String unit) {
    Optional<Held> model = settled.held(TagName.MODEL);
    Optional<Held> by = settled.held(TagName.UNIT);
    boolean trusted =
        model.isPresent()
            && by.isPresent()
            && model.get().source().compareTo(by.get().source()) <= 0;
    return trusted ? model.get().value() : unit;
  }

  private String settings() {
    List<String> parts = new ArrayList<>();
    settled.value(TagName.INTERVAL).ifPresent(v -> parts.add("interval " + v));
    settled.value(TagName.BAND).ifPresent(v -> parts.add("band " + v));
    settled.value(TagName.START_PROTOCOL).ifPresent(v -> parts.add("start " + v));
    return String.join(", ", parts);
  }

  private List<Reading> shown() {
    List<Map<TagName, Held>> passes = new ArrayList<>(settled.passes().values());
    if (passes.isEmpty()) passes.add(settled.whole());
    List<Reading> readings = new ArrayList<>();
    for (Map<TagName, Held> pass : passes)
      if (pass.containsKey(TagName.SHOWN)) ShownTag.read(pass, gaps).ifPresent(readings::add);
    return readings;
  }

  private Map<Integer, LeftOut> excluded() {
    Map<Integer, LeftOut> reasons = new LinkedHashMap<>();
    settled.passes().forEach((pass, tags) -> excluded(pass, tags, reasons));
    if (settled.passes().isEmpty()) excluded(TagWords.WHOLE, settled.whole(), reasons);
    return reasons;
  }

  private void excluded(int pass, Map<TagName, Held> tags, Map<Integer, LeftOut> reasons) {
    Held held = tags.get(TagName.EXCLUDED_REASON);
    if (held == null) return;
    String name = held.value().strip().toUpperCase(Locale.ROOT).replace('-', '_').replace(' ', '_');
    Optional<Exclusion.Reason> reason = parse(name, Exclusion.Reason::valueOf);
    if (reason.isEmpty())
      gaps.add(new Gap(TagName.EXCLUDED_REASON, Gap.Kind.NOT_UNDERSTOOD, held.value()));
    reason.ifPresent(r -> reasons.put(pass, new LeftOut(r, held.source())));
  }

  private <T> Optional<T> needed(TagName name, Function<String, Optional<T>> read) {
    if (settled.value(name).isEmpty()) gaps.add(new Gap(name, Gap.Kind.MISSING, ""));
    return given(name, read);
  }

  private <T> Optional<T> given(TagName name, Function<String, Optional<T>> read) {
    Optional<String> text = settled.value(name);
    Optional<T> value = text.flatMap(read);
    if (text.isPresent() && value.isEmpty())
      gaps.add(new Gap(name, Gap.Kind.NOT_UNDERSTOOD, text.get()));
    return value;
  }

  public static <T> Optional<T> parse(String text, Function<String, T> read) {
    try {
      return Optional.of(read.apply(text.strip()));
    } catch (IllegalArgumentException | DateTimeException e) {
      return Optional.empty();
    }
  }

  private static Optional<Integer> count(String text) {
    return parse(text, Integer::valueOf).filter(n -> n >= 1);
  }

  private static Optional<Boolean> yesOrNo(String text) {
    return switch (text.strip().toLowerCase(Locale.ROOT)) {
      case "yes", "y", "true", "1" -> Optional.of(true);
      case "no", "n", "false", "0" -> Optional.of(false);
      default -> Optional.empty();
    };
  }
}
