package milewarden.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Templates take one record and know for and if. */
final class TemplateHabitsTest {
  private static final Path TEMPLATES = Path.of("src/main/jte");
  private static final Pattern IMPORT = Pattern.compile("@import\\s+(\\S+)");
  private static final Pattern EXPRESSION = Pattern.compile("[$!]\\{([^}]*)}|@if\\(([^\n]*)\\)\n");

  private static List<Path> templates() throws IOException {
    try (Stream<Path> all = Files.walk(TEMPLATES)) {
      List<Path> found = all.filter(p -> p.toString().endsWith(".jte")).toList();
      assertThat(found).isNotEmpty();
      return found;
    }
  }

  @Test
  void noTemplateImportsADomainPackage() throws IOException {
    for (Path template : templates()) {
      Matcher imports = IMPORT.matcher(read(template));
      while (imports.find())
        assertThat(imports.group(1))
            .as(template.toString())
            .matches(
                "milewarden\\.(web|report)(\\.[a-z]+)*\\.[A-Z]\\w*|java\\.util\\.\\w+|gg\\.jte\\.Content");
    }
  }

  @Test
  void noTemplateCountsOrFormats() throws IOException {
    for (Path template : templates()) {
      Matcher expressions = EXPRESSION.matcher(read(template));
      while (expressions.find())
        assertThat(expressions.group())
            .as(template.toString())
            .doesNotContainPattern("[^\"]\\s[*/%+-]\\s[^\"]|String\\.format|Math\\.");
    }
  }

  @Test
  void noTemplateScriptOrStyleAsksAnotherHost() throws IOException {
    for (Path template : templates())
      assertThat(read(template))
          .as(template.toString())
          .doesNotContainPattern("(src|href)=\"(https?:)?//");
    for (String asset : List.of("milewarden.css", "charts.js", "pages.js"))
      assertThat(read(Path.of("src/main/resources/milewarden/assets", asset)))
          .as(asset)
          .doesNotContainPattern("https?://(?!www\\.w3\\.org/)");
  }

  private static String read(Path file) throws IOException {
    return Files.readString(file, StandardCharsets.UTF_8);
  }
}
