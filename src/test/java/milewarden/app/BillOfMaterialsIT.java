package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.IOException;
import java.io.InputStream;
import java.util.Properties;
import java.util.Set;
import java.util.TreeSet;
import java.util.jar.JarEntry;
import java.util.jar.JarFile;
import org.junit.jupiter.api.Test;

/**
 * What is in the jar is what its bill of materials lists. Held to the jar by what Maven leaves of
 * every artefact in it, {@code META-INF/maven/GROUP/ARTEFACT/pom.properties}.
 */
final class BillOfMaterialsIT {
  private static final String BOM = "META-INF/sbom/milewarden.cdx.json";

  @Test
  void everyArtefactInTheJarIsListedWithItsVersion() throws Exception {
    try (JarFile jar = new JarFile(System.getProperty("milewarden.jar"))) {
      JsonNode bom;
      try (InputStream in = jar.getInputStream(jar.getEntry(BOM))) {
        bom = new JsonMapper().readTree(in);
      }
      assertThat(bom.get("bomFormat").asText()).isEqualTo("CycloneDX");
      Set<String> listed = new TreeSet<>();
      for (JsonNode c : bom.get("components")) {
        assertThat(c.get("purl").asText()).startsWith("pkg:maven/");
        assertThat(c.get("hashes")).as(c.get("purl").asText()).isNotEmpty();
        listed.add(
            c.get("group").asText()
                + ":"
                + c.get("name").asText()
                + ":"
                + c.get("version").asText());
      }
      Set<String> there = inside(jar);
      assertThat(there)
          .hasSizeGreaterThan(40)
          .contains("io.javalin:javalin:" + of(there, "javalin"));
      assertThat(listed).containsAll(there);
      // Nothing that only tests use.
      assertThat(listed).noneMatch(c -> c.matches(".*(junit|assertj|selenium|greenmail|jazzer).*"));
    }
  }

  private static String of(Set<String> artefacts, String name) {
    return artefacts.stream()
        .filter(a -> a.split(":")[1].equals(name))
        .map(a -> a.split(":")[2])
        .findFirst()
        .orElse("?");
  }

  private static Set<String> inside(JarFile jar) throws IOException {
    Set<String> there = new TreeSet<>();
    for (JarEntry entry :
        jar.stream().filter(e -> e.getName().endsWith("pom.properties")).toList()) {
      Properties p = new Properties();
      try (InputStream in = jar.getInputStream(entry)) {
        p.load(in);
      }
      String group = p.getProperty("groupId");
      if (group.equals("milewarden")) continue;
      there.add(group + ":" + p.getProperty("artifactId") + ":" + p.getProperty("version"));
    }
    return there;
  }
}
