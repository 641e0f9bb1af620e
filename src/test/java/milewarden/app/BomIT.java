package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.zip.ZipEntry;
import java.util.zip.ZipFile;
import org.junit.jupiter.api.Test;

/**
 * The bill of materials names what is in the jar, no more and no less. It is written by the profile
 * {@code bom}; without it there is nothing to compare.
 */
final class BomIT {
  private static final Path JAR = Path.of(System.getProperty("milewarden.jar", "none"));
  private static final Path BOM = JAR.resolveSibling("milewarden.cdx.json");
  // What a library carries within itself is not billed, but the library is: DEVELOPERS.md says so.
  private static final Map<String, String> CARRIED =
      Map.of(
          "org.antlr:antlr4-runtime", "org.jdbi:jdbi3-core",
          "org.eclipse.angus:angus-core", "org.eclipse.angus:angus-mail",
          "org.eclipse.angus:imap", "org.eclipse.angus:angus-mail",
          "org.eclipse.angus:logging-mailhandler", "org.eclipse.angus:angus-mail",
          "org.eclipse.angus:pop3", "org.eclipse.angus:angus-mail",
          "org.eclipse.angus:smtp", "org.eclipse.angus:angus-mail");

  private record Library(String group, String name, String version) {
    String key() {
      return group + ":" + name;
    }

    String id() {
      return group + ":" + name + ":" + version;
    }
  }

  private static List<Library> billed() throws IOException {
    List<Library> all = new ArrayList<>();
    for (JsonNode c : new ObjectMapper().readTree(BOM.toFile()).get("components"))
      all.add(
          new Library(
              c.path("group").asText(), c.path("name").asText(), c.path("version").asText()));
    return all;
  }

  private static Set<String> marked(ZipFile jar) throws IOException {
    Set<String> ids = new TreeSet<>();
    for (ZipEntry entry : jar.stream().toList()) {
      if (!entry.getName().matches("META-INF/maven/.*/pom[.]properties")) continue;
      Properties p = new Properties();
      try (InputStream in = jar.getInputStream(entry)) {
        p.load(in);
      }
      Library each =
          new Library(
              p.getProperty("groupId"), p.getProperty("artifactId"), p.getProperty("version"));
      if (!each.group().equals("milewarden") && !CARRIED.containsKey(each.key()))
        ids.add(each.id());
    }
    return ids;
  }

  @Test
  void whatIsInTheJarIsBilledUnderItsVersion() throws IOException {
    assumeTrue(Files.exists(BOM), "no bill of materials was written: -Pbom writes it");
    try (ZipFile jar = new ZipFile(JAR.toFile())) {
      Set<String> marked = marked(jar);
      assertThat(marked).hasSizeGreaterThan(40);
      Set<String> billed = billed().stream().map(Library::id).collect(Collectors.toSet());
      assertThat(billed).containsAll(marked);
      assertThat(billed().stream().map(Library::key)).containsAll(CARRIED.values());
    }
  }

  /** Of each library that is billed at least one file lies in the jar. */
  @Test
  void whatIsBilledIsInTheJar() throws IOException {
    assumeTrue(Files.exists(BOM), "no bill of materials was written: -Pbom writes it");
    Path repository =
        Path.of(
            System.getProperty(
                "maven.repo.local", System.getProperty("user.home") + "/.m2/repository"));
    List<String> absent = new ArrayList<>();
    try (ZipFile jar = new ZipFile(JAR.toFile())) {
      for (Library each : billed()) {
        Path file =
            repository
                .resolve(each.group().replace('.', '/'))
                .resolve(each.name())
                .resolve(each.version())
                .resolve(each.name() + "-" + each.version() + ".jar");
        try (ZipFile library = new ZipFile(file.toFile())) {
          boolean any =
              library.stream()
                  .map(ZipEntry::getName)
                  .filter(n -> !n.endsWith("/") && !n.endsWith("module-info.class"))
                  .filter(n -> !n.startsWith("META-INF/") || n.startsWith("META-INF/resources/"))
                  .anyMatch(n -> jar.getEntry(n) != null);
          boolean empty =
              library.stream()
                  .noneMatch(e -> !e.isDirectory() && !e.getName().startsWith("META-INF/"));
          if (!any && !empty) absent.add(each.id());
        }
      }
    }
    assertThat(absent).isEmpty();
  }
}
