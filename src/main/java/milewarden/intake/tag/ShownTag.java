package milewarden.intake.tag;

import java.math.BigDecimal;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.device.Reading;
import milewarden.device.Rounding;
import milewarden.intake.tag.TagSettling.Held;
import milewarden.track.TagName;
import milewarden.units.LengthUnit;

/** A shown distance from its tags: the number, its unit, its step and the display's rule. */
public final class ShownTag {
  private ShownTag() {}

  /** Empty where something of it is a gap. */
  static Optional<Reading> read(Map<TagName, Held> tags, List<Gap> gaps) {
    Optional<BigDecimal> value = number(tags, TagName.SHOWN, gaps).filter(v -> v.signum() >= 0);
    Optional<LengthUnit> unit = unit(tags, gaps);
    Optional<BigDecimal> step = number(tags, TagName.SHOWN_STEP, gaps).filter(s -> s.signum() > 0);
    Optional<Rounding> rounding = rounding(tags, gaps);
    if (value.isEmpty() || unit.isEmpty() || rounding.isEmpty()) return Optional.empty();
    return Optional.of(
        new Reading(
            value.get().doubleValue(),
            unit.get(),
            // Without a step the last digit that was written down is the display's.
            step.orElse(value.get().ulp()).doubleValue(),
            rounding.get()));
  }

  private static Optional<BigDecimal> number(
      Map<TagName, Held> tags, TagName name, List<Gap> gaps) {
    Held held = tags.get(name);
    if (held == null) return Optional.empty();
    Optional<BigDecimal> value = TagReader.parse(held.value(), BigDecimal::new);
    boolean good =
        value.isPresent()
            && value.get().signum() >= (name == TagName.SHOWN ? 0 : 1)
            && Double.isFinite(value.get().doubleValue());
    if (!good) gaps.add(new Gap(name, Gap.Kind.NOT_UNDERSTOOD, held.value()));
    return value.filter(v -> good);
  }

  private static Optional<LengthUnit> unit(Map<TagName, Held> tags, List<Gap> gaps) {
    Held held = tags.get(TagName.SHOWN_UNIT);
    Optional<LengthUnit> unit = Optional.ofNullable(held).map(Held::value).flatMap(LengthUnit::of);
    if (held == null) gaps.add(new Gap(TagName.SHOWN_UNIT, Gap.Kind.MISSING, ""));
    else if (unit.isEmpty())
      gaps.add(new Gap(TagName.SHOWN_UNIT, Gap.Kind.NOT_UNDERSTOOD, held.value()));
    return unit;
  }

  private static Optional<Rounding> rounding(Map<TagName, Held> tags, List<Gap> gaps) {
    Held held = tags.get(TagName.ROUNDING);
    if (held == null) return Optional.of(Rounding.UNKNOWN);
    Optional<Rounding> rounding = Rounding.of(held.value());
    if (rounding.isEmpty())
      gaps.add(new Gap(TagName.ROUNDING, Gap.Kind.NOT_UNDERSTOOD, held.value()));
    return rounding;
  }
}
