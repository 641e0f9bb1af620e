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
}
