package milewarden.benchmark;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;

/**
 * Everything that is said about speed, measured in one go: {@code mvn -q -Dquick -Pbenchmark}. The
 * arguments name parts, {@code all} is every one. A figure in nanoseconds is one of this machine
 * and this hour; a ratio was measured in turn with what it is a ratio to.
 */
public final class Speed {
  private Speed() {}

  private interface Part {
    void measure(Table table) throws Exception;
  }

  private record Named(String name, Part part) {}

  public static void main(String[] args) throws Exception {
    List<Named> parts =
        List.of(
            new Named("pipeline", t -> new EngineSpeed(t).pipeline()),
            new Named("reading", t -> new EngineSpeed(t).reading()),
            new Named("engine", t -> new EngineSpeed(t).engine()),
            new Named("kept", KeptSpeed::measure),
            new Named("judging", JudgingBenchmark::measure),
            new Named("growth", GrowthSpeed::measure),
            new Named("pages", PageSpeed::measure),
            new Named("memory", ProcessSpeed::memory),
            new Named("start", ProcessSpeed::start));
    List<String> wanted = List.of(String.join(",", args).split(","));
    Table table = new Table();
    String machine =
        "%s, %d processors, Java %s, %s"
            .formatted(
                System.getProperty("os.arch"),
                Runtime.getRuntime().availableProcessors(),
                System.getProperty("java.version"),
                LocalDate.now(java.time.ZoneId.systemDefault()));
    System.out.println(machine);
    for (Named part : parts)
      if (args.length == 0 || wanted.contains("all") || wanted.contains(part.name))
        part.part.measure(table);
    Path file = Path.of("target", "speed.md");
    Files.createDirectories(file.getParent());
    Files.writeString(file, machine + "\n\n" + table.text());
    System.out.printf("%d goals missed; the table lies in %s%n", table.missed(), file);
    System.exit(0);
  }
}
