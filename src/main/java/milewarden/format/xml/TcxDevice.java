package milewarden.format.xml;

import java.util.EnumMap;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import milewarden.format.fixes.CreatorText;
import milewarden.track.DeviceClaim;

/** What the creator of an activity says of itself. */
final class TcxDevice {
  /** The elements that are looked into; the last four are parts of the version. */
  private enum Part {
    NAME("Name"),
    SERIAL("UnitId"),
    CODE("ProductID"),
    MAJOR("VersionMajor"),
    MINOR("VersionMinor"),
    BUILD_MAJOR("BuildMajor"),
    BUILD_MINOR("BuildMinor");

    private final String element;

    Part(String element) {
      this.element = element;
    }

    static Optional<Part> of(String element) {
      return Stream.of(values()).filter(p -> p.element.equals(element)).findFirst();
    }
  }

  private final Map<Part, String> said = new EnumMap<>(Part.class);

  static boolean knows(String element) {
    return Part.of(element).isPresent();
  }

  /** The first of several devices counts. */
  void says(String element, String text) {
    Part.of(element).ifPresent(p -> said.putIfAbsent(p, text));
  }

  DeviceClaim claim() {
    return new DeviceClaim(text(Part.NAME), text(Part.CODE), text(Part.SERIAL), version());
  }

  private Optional<String> text(Part part) {
    return Optional.ofNullable(said.get(part)).flatMap(CreatorText::cleaned);
  }

  /** {@code 4.10}, and {@code 4.10.2.1} where a build is named that is not 0. */
  private Optional<String> version() {
    if (text(Part.MAJOR).isEmpty()) return Optional.empty();
    boolean build =
        Stream.of(Part.BUILD_MAJOR, Part.BUILD_MINOR)
            .flatMap(p -> text(p).stream())
            .anyMatch(t -> !t.equals("0"));
    Stream<Part> parts =
        build
            ? Stream.of(Part.MAJOR, Part.MINOR, Part.BUILD_MAJOR, Part.BUILD_MINOR)
            : Stream.of(Part.MAJOR, Part.MINOR);
    return Optional.of(parts.map(p -> text(p).orElse("0")).collect(Collectors.joining(".")));
  }
}
