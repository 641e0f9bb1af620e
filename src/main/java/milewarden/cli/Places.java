package milewarden.cli;

import java.nio.file.Path;
import java.util.Optional;
import java.util.OptionalInt;
import picocli.CommandLine.Option;

/** Where things lie: the options that every command on a data folder takes. */
public final class Places {
  @Option(
      names = "--data",
      paramLabel = "DIR",
      defaultValue = "data",
      description = "the data folder (default: data)")
  private Path data = Path.of("data");

  @Option(
      names = "--config",
      paramLabel = "FILE",
      description = "the configuration (default: config/milewarden.yaml where it is there)")
  private Optional<Path> config = Optional.empty();

  @Option(
      names = "--courses",
      paramLabel = "DIR",
      description = "the folder of the reference courses (default: the data folder's courses)")
  private Optional<Path> courses = Optional.empty();

  private OptionalInt port = OptionalInt.empty();

  public Places() {}

  /** The usual files with this data folder. */
  public static Places of(Path data) {
    Places places = new Places();
    places.data = data;
    return places;
  }

  public Places withConfig(Path file) {
    this.config = Optional.of(file);
    return this;
  }

  public Places withCourses(Path folder) {
    this.courses = Optional.of(folder);
    return this;
  }

  /** The port given on the command line wins over the configuration's. */
  public Places withPort(Optional<Integer> number) {
    this.port = number.map(OptionalInt::of).orElse(OptionalInt.empty());
    return this;
  }

  public Path data() {
    return data;
  }

  public Optional<Path> config() {
    return config;
  }

  public Optional<Path> courses() {
    return courses;
  }

  public OptionalInt port() {
    return port;
  }
}
