package milewarden.review;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import milewarden.report.trial.CapsuleWords;
import milewarden.store.judged.Capsules;
import milewarden.store.file.Contents;
import milewarden.store.Id.VerdictId;
import milewarden.store.Tx;
import milewarden.verdict.replay.CapsuleContents;

/**
 * The archive of a published verdict, from which every figure can be found again without this
 * store: recordings, course files, rules, the passes with their figures, the arithmetic, hashes.
 */
public final class CapsuleFile {
  static final String CONTENTS = "contents.json";
  static final String SUMS = "SHA256SUMS";

  private CapsuleFile() {}

  /**
   * Writes the archive of a verdict.
   *
   * @return false where the verdict has none: it was published before capsules were kept
   */
  public static boolean write(Tx tx, VerdictId verdict, OutputStream to) {
    Optional<CapsuleContents> found = Capsules.find(tx, verdict);
    if (found.isEmpty()) return false;
    CapsuleContents c = found.get();
    Map<String, Supplier<byte[]>> files = new LinkedHashMap<>();
    files.put("README.txt", () -> utf8(CapsuleWords.readme(c)));
    files.put("arithmetic.txt", () -> utf8(CapsuleWords.arithmetic(c)));
    files.put("passes.csv", () -> utf8(CapsuleWords.passes(c)));
    files.put("policy.json", () -> utf8(Capsules.text(c.verdict().policy())));
    files.put("verdict.json", () -> utf8(Capsules.text(c.verdict())));
    files.put(CONTENTS, () -> utf8(Capsules.text(c)));
    for (CapsuleContents.Pass pass : c.passes()) {
      String version = pass.evidence().condition().courseVersion();
      files.put(CapsuleWords.courseFile(pass), () -> bytes(tx, version));
      if (!pass.sha256().isEmpty())
        files.put(CapsuleWords.recordingFile(pass), () -> bytes(tx, pass.sha256()));
    }
    try {
      zip(files, c.verdict().publishedAt(), to);
    } catch (IOException e) {
      throw new UncheckedIOException("the capsule can't be written", e);
    }
    return true;
  }

  private static void zip(Map<String, Supplier<byte[]>> files, Instant at, OutputStream to)
      throws IOException {
    StringBuilder sums = new StringBuilder();
    try (ZipOutputStream zip = new ZipOutputStream(to, StandardCharsets.UTF_8)) {
      for (Map.Entry<String, Supplier<byte[]>> file : files.entrySet()) {
        byte[] bytes = file.getValue().get();
        entry(zip, file.getKey(), bytes, at);
        sums.append(Contents.sha256(bytes)).append("  ").append(file.getKey()).append('\n');
      }
      entry(zip, SUMS, utf8(sums.toString()), at);
    }
  }

  private static void entry(ZipOutputStream zip, String name, byte[] bytes, Instant at)
      throws IOException {
    ZipEntry entry = new ZipEntry(name);
    // The verdict's own time, so that the same verdict gives the same archive.
    entry.setTime(at.toEpochMilli());
    zip.putNextEntry(entry);
    zip.write(bytes);
    zip.closeEntry();
  }

  private static byte[] utf8(String text) {
    return text.getBytes(StandardCharsets.UTF_8);
  }

  private static byte[] bytes(Tx tx, String sha256) {
    return Contents.bytes(tx, sha256)
        .orElseThrow(() -> new IllegalStateException("no bytes of " + sha256));
  }
}
