package milewarden.track;

import java.util.Optional;

/** What a file says about the device that wrote it; free text, kept as found. */
public record DeviceClaim(
    Optional<String> name,
    Optional<String> code,
    Optional<String> serial,
    Optional<String> software) {
  public static final DeviceClaim NONE =
      new DeviceClaim(Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());

  /** What {@code better} says, and this where it says nothing. */
  public DeviceClaim overriddenBy(DeviceClaim better) {
    return new DeviceClaim(
        better.name.or(() -> name),
        better.code.or(() -> code),
        better.serial.or(() -> serial),
        better.software.or(() -> software));
  }
}
