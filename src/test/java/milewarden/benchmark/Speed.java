package milewarden.benchmark;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;

/**
 * Everything that is said about speed, measured in one go: {@code mvn -q -Dquick -Pbenchmark}. The
 * arguments name parts, {@code all} is every one; with {@code -Dreadme=true} the table goes into
 * the README. A figure in nanoseconds is one of this machine and this hour; a ratio was measured in
 * turn with what it is a ratio to.
 */
public final class Speed {
  // Takes minutes to fill its store: only where it is named.
  private static final String MANY_PAGES = "many-pages";
  private static final String BEGIN = "<!-- speed: written by the command above -->";
  private static final String END = "<!-- end of speed -->";

  private Speed() {}

  /** Between two comments that stand there for it. */
  private static void intoReadme(String machine, Table table) throws IOException {
    Path readme = Path.of("README.md");
    String text = Files.readString(readme);
    int from = text.indexOf(BEGIN) + BEGIN.length();
    int to = text.indexOf(END);
    Files.writeString(
        readme,
        text.substring(0, from)
            + "\n"
            + machine
            + ":\n\n"
            + table.text()
            + "\n"
            + text.substring(to));
  }

  private interface Part {
    void measure(Table table) throws Exception;
  }

  private record Named(String name, Part part) {}

  public static void main(String[] args) throws Exception {
    List<Named> parts =
        List.of(
            // First: what the pipeline's part leaves behind in the machine's memory of which way a
            // branch or a call went makes the small loops of the readers slower by a tenth or two.
            new Named("reading", t -> new EngineSpeed(t).reading()),
            new Named("pipeline", t -> new EngineSpeed(t).pipeline()),
            new Named("engine", t -> new EngineSpeed(t).engine()),
            new Named("kept", KeptSpeed::measure),
            new Named("judging", JudgingBenchmark::measure),
            new Named("growth", GrowthSpeed::measure),
            new Named("pages", PageSpeed::measure),
            new Named("seen", PageSpeed::seen),
            new Named(MANY_PAGES, PageSpeed::many),
            new Named("memory", ProcessSpeed::memory),
            new Named("start", StartSpeed::measure));
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
      if (args.length == 0 && !part.name.equals(MANY_PAGES)
          || wanted.contains("all") && !part.name.equals(MANY_PAGES)
          || wanted.contains(part.name)) part.part.measure(table);
    Path file = Path.of("target", "speed.md");
    Files.createDirectories(file.getParent());
    Files.writeString(file, machine + "\n\n" + table.text());
    if (Boolean.getBoolean("readme")) intoReadme(machine, table);
    System.out.printf("%d goals missed; the table lies in %s%n", table.missed(), file);
    System.exit(0);
  }
}
