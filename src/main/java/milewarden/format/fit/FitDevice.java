package milewarden.format.fit;

import java.util.Locale;
import java.util.Optional;
import milewarden.format.fixes.CreatorText;
import milewarden.track.DeviceClaim;

/** What the file says of the device that wrote it; numbers of makers and products stay numbers. */
final class FitDevice {
  private DeviceClaim fromId = DeviceClaim.NONE;
  private DeviceClaim fromInfo = DeviceClaim.NONE;
  private DeviceClaim fromCreator = DeviceClaim.NONE;

  /** Of several files behind one another the first counts, as with the other messages. */
  void fileId(FitMessage m) {
    if (fromId.equals(DeviceClaim.NONE))
      fromId =
          new DeviceClaim(
              m.text(8).flatMap(CreatorText::cleaned),
              code(m.value(1), m.value(2)),
              number(m.value(3)),
              Optional.empty());
  }

  /** Sensors are devices, too: the one with the index 0 is the recorder itself. */
  void deviceInfo(FitMessage m) {
    if (m.value(0) != 0) return;
    fromInfo =
        new DeviceClaim(
                m.text(27).flatMap(CreatorText::cleaned),
                code(m.value(2), m.value(4)),
                number(m.value(3)),
                version(m.value(5)))
            .overriddenBy(fromInfo);
  }

  void fileCreator(FitMessage m) {
    fromCreator =
        new DeviceClaim(Optional.empty(), Optional.empty(), Optional.empty(), version(m.value(0)))
            .overriddenBy(fromCreator);
  }

  DeviceClaim claim() {
    return fromCreator.overriddenBy(fromInfo).overriddenBy(fromId);
  }

  private static Optional<String> code(long maker, long product) {
    if (maker == FitMessage.NONE && product == FitMessage.NONE) return Optional.empty();
    return Optional.of(number(maker).orElse("?") + "/" + number(product).orElse("?"));
  }

  private static Optional<String> number(long value) {
    return value == FitMessage.NONE ? Optional.empty() : Optional.of(Long.toString(value));
  }

  /** Hundredths: 1012 is 10.12. */
  private static Optional<String> version(long hundredths) {
    if (hundredths == FitMessage.NONE) return Optional.empty();
    return Optional.of(String.format(Locale.ROOT, "%d.%02d", hundredths / 100, hundredths % 100));
  }
}
