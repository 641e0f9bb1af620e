package milewarden.app;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import milewarden.cli.Exit;
import milewarden.cli.Milewarden;
import milewarden.store.Database;
import milewarden.store.file.Contents;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A verdict's figures, found again from its capsule alone, and what was tampered with found. */
final class CapsuleTest {
  @TempDir Path folder;
  @TempDir Path elsewhere;

  private Path capsule() throws Exception {
    Season season = new Season(folder);
    try (Database database = season.look()) {
      season.run(database);
    }
    Path file = elsewhere.resolve("capsule.zip");
    StringWriter out = new StringWriter();
    int code =
        season.command(
            out, "verdict", "capsule", "--model", "K1", "--number", "1", "--out", file.toString());
    assertThat(code).as(out.toString()).isEqualTo(Exit.DONE);
    int none =
        season.command(
            out, "verdict", "capsule", "--model", "K1", "--number", "7", "--out", file.toString());
    assertThat(none).isEqualTo(Exit.WRONG_USE);
    return file;
  }

  private static int check(Path file, StringWriter out) {
    return Season.bare(out, "verdict", "check", file.toString());
  }

  private static Map<String, byte[]> unpacked(Path file) throws IOException {
    Map<String, byte[]> entries = new LinkedHashMap<>();
    try (ZipInputStream zip =
        new ZipInputStream(new ByteArrayInputStream(Files.readAllBytes(file)))) {
      for (ZipEntry e = zip.getNextEntry(); e != null; e = zip.getNextEntry())
        entries.put(e.getName(), zip.readAllBytes());
    }
    return entries;
  }

  /** Packs it again, the hashes made to fit: what a careful forger would do. */
  private Path packed(Map<String, byte[]> entries, boolean sums) throws IOException {
    if (sums) {
      StringBuilder lines = new StringBuilder();
      entries.forEach(
          (name, bytes) -> {
            if (!name.equals("SHA256SUMS"))
              lines.append(Contents.sha256(bytes)).append("  ").append(name).append('\n');
          });
      entries.put("SHA256SUMS", lines.toString().getBytes(StandardCharsets.UTF_8));
    }
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (ZipOutputStream zip = new ZipOutputStream(bytes)) {
      for (Map.Entry<String, byte[]> e : entries.entrySet()) {
        zip.putNextEntry(new ZipEntry(e.getKey()));
        zip.write(e.getValue());
      }
    }
    return Files.write(elsewhere.resolve("other.zip"), bytes.toByteArray());
  }

  private static String text(Map<String, byte[]> entries, String name) {
    return new String(entries.get(name), StandardCharsets.UTF_8);
  }

  @Test
  void everyFigureIsFoundAgainFromTheCapsuleAlone() throws Exception {
    Path file = capsule();
    // Nothing but the archive is left.
    try (var all = Files.walk(folder)) {
      for (Path each : all.sorted(java.util.Comparator.reverseOrder()).toList())
        if (!each.equals(folder)) Files.delete(each);
    }
    StringWriter out = new StringWriter();
    assertThat(check(file, out)).as(out.toString()).isEqualTo(Exit.DONE);
    assertThat(out.toString())
        .contains("Verdict 1 on K1 1.0")
        .contains("It recomputes to the same digits")
        .contains("8 passes from their bytes");

    Map<String, byte[]> entries = unpacked(file);
    // By hand: 401, 400, 402, 401 m and four times 401 m for 400 m: 2 % in eight sessions, and
    // squares of 0, 1/4, 1/4, 0 ... that sum up to 1/8, over 7.
    String sums = text(entries, "arithmetic.txt");
    assertThat(sums).contains("n = 8");
    assertThat(value(sums, "m")).isCloseTo(0.25, within(1e-6));
    assertThat(value(sums, "s^2")).isCloseTo(0.125 / 7, within(1e-6));
    JsonNode verdict = JsonMapper.builder().build().readTree(entries.get("verdict.json"));
    assertThat(verdict.path("figures").path("meanPercent").asDouble())
        .isCloseTo(0.25, within(1e-6));
    // sha256sum's own form: two spaces between the hash and the name.
    for (String line : text(entries, "SHA256SUMS").lines().toList()) {
      String name = line.substring(66);
      assertThat(line.substring(0, 64)).isEqualTo(Contents.sha256(entries.get(name)));
    }
    measuredByHand(entries);
  }

  private static double value(String sums, String name) {
    String line = sums.lines().filter(l -> l.contains(" " + name + " = ")).findFirst().get();
    return Double.parseDouble(line.replaceAll(".* = ", ""));
  }

  /** A line of the README, typed in. */
  private void measuredByHand(Map<String, byte[]> entries) throws Exception {
    for (Map.Entry<String, byte[]> e : entries.entrySet()) {
      Path to = elsewhere.resolve(e.getKey());
      Files.createDirectories(to.getParent());
      Files.write(to, e.getValue());
    }
    String line =
        text(entries, "README.txt")
            .lines()
            .filter(l -> l.contains("milewarden measure"))
            .findFirst()
            .orElseThrow();
    String recording = line.replaceAll(".*(recordings/\\S+).*", "$1");
    String course = line.replaceAll(".*(courses/\\S+).*", "$1");
    StringWriter out = new StringWriter();
    Milewarden.run(
        Map.of(),
        new PrintWriter(out),
        new PrintWriter(out),
        "measure",
        elsewhere.resolve(recording).toString(),
        "--course",
        elsewhere.resolve(course).toString(),
        "--json");
    JsonNode pass =
        JsonMapper.builder()
            .build()
            .readTree(out.toString())
            .path("tracks")
            .path(0)
            .path("passes")
            .path(0);
    String row =
        text(entries, "passes.csv").lines().filter(l -> l.contains(recording)).findFirst().get();
    assertThat(pass.path("error").path("trackPercent").asDouble())
        .isCloseTo(Double.parseDouble(row.split(",")[13]), within(1e-9));
  }

  @Test
  void whatIsNotAsItWasPublishedIsNamed() throws Exception {
    Path file = capsule();
    Map<String, byte[]> entries = unpacked(file);
    String recording =
        entries.keySet().stream().filter(n -> n.startsWith("recordings/")).findFirst().get();
    String course =
        entries.keySet().stream().filter(n -> n.startsWith("courses/")).findFirst().get();

    Map<String, byte[]> bad = new LinkedHashMap<>(entries);
    byte[] bytes = bad.get(recording).clone();
    bytes[bytes.length / 2] ^= 1;
    bad.put(recording, bytes);
    assertFault(packed(bad, false), recording, "is not the file that was published");
    assertFault(packed(bad, true), recording, "is not the file that was published");

    bad = new LinkedHashMap<>(entries);
    bad.remove(recording);
    assertFault(packed(bad, false), recording, "is missing");

    bad = new LinkedHashMap<>(entries);
    bad.put(course, (text(bad, course) + "\n").getBytes(StandardCharsets.UTF_8));
    assertFault(packed(bad, true), "condition.courseVersion", "was published as");

    bad = new LinkedHashMap<>(entries);
    String contents = text(bad, "contents.json");
    String forged = contents.replaceFirst("\"meanPercent\" : [0-9.]+", "\"meanPercent\" : 0.12875");
    assertThat(forged).isNotEqualTo(contents);
    bad.put("contents.json", forged.getBytes(StandardCharsets.UTF_8));
    assertFault(packed(bad, true), "meanPercent is 0.", "was published as 0.12875");

    assertFault(Files.writeString(elsewhere.resolve("no.zip"), "nothing"), "This is no capsule");
  }

  private static void assertFault(Path file, String... words) {
    StringWriter out = new StringWriter();
    assertThat(check(file, out)).as(out.toString()).isEqualTo(Exit.FINDINGS);
    assertThat(out.toString()).contains(words);
  }
}
