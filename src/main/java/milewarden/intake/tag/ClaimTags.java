package milewarden.intake.tag;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import milewarden.track.DeviceClaim;
import milewarden.track.TagName;
import milewarden.track.TagSource;

/** What the file itself says of the device that wrote it. */
public final class ClaimTags {
  private ClaimTags() {}

  public static TagWords of(DeviceClaim claim, KnownDevices known) {
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    Optional<String> model = claim.name().or(claim::code);
    Optional<String> serial = claim.serial();
    model.ifPresent(m -> tags.put(TagName.MODEL, m));
    // A serial that is a known unit's name says more than the model beside it.
    Optional<String> unit = serial.flatMap(known::unit);
    if (unit.isEmpty() && model.isPresent())
      unit = Optional.of(serial.map(s -> model.get() + " " + s).orElse(model.get()));
    unit.or(() -> serial).ifPresent(u -> tags.put(TagName.UNIT, u));
    claim.software().ifPresent(s -> tags.put(TagName.FIRMWARE, s));
    return TagWords.ofWhole(TagSource.FILE, tags, "");
  }
}
