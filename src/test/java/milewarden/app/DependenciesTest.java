package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

/** Every library of the build says in DEVELOPERS.md what it is for. */
final class DependenciesTest {
  private static final Pattern ARTIFACT =
      Pattern.compile("<dependency>\\s*<groupId>[^<]*</groupId>\\s*<artifactId>([^<]+)<");

  @Test
  void everyLibraryOfTheBuildStandsInTheTables() throws IOException {
    String pom = Files.readString(Path.of("pom.xml"));
    String own = pom.substring(pom.indexOf("</dependencyManagement>"));
    List<String> names =
        ARTIFACT.matcher(own).results().map((MatchResult found) -> found.group(1)).toList();
    assertThat(names).hasSizeGreaterThan(30).contains("javalin", "jts-core");
    List<String> missing = new ArrayList<>();
    String libraries = libraries();
    for (String name : names) {
      // jdbi3-core stands there as JDBI.
      String word = name.toLowerCase(Locale.ROOT).split("-")[0];
      String bare = word.length() > 2 ? word.replaceFirst("[0-9]$", "") : word;
      if (!Pattern.compile("\\b" + bare).matcher(libraries).find()) missing.add(name);
    }
    assertThat(missing).isEmpty();
  }

  // The first column of both tables.
  private static String libraries() throws IOException {
    String all = Files.readString(Path.of("DEVELOPERS.md"));
    int from = all.indexOf("\n## Dependencies");
    String section = all.substring(from, all.indexOf("\n## ", from + 1));
    return section
        .lines()
        .filter(line -> line.startsWith("| "))
        .map(line -> line.split("\\|")[1])
        .reduce("", (a, b) -> a + "\n" + b)
        .toLowerCase(Locale.ROOT);
  }
}
