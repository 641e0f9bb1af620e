package milewarden.review;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.time.Instant;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import milewarden.report.trial.CapsuleWords;
import milewarden.store.Id.VerdictId;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.judged.Capsules;
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
    Map<String, Supplier<InputStream>> files = new LinkedHashMap<>();
    files.put("README.txt", () -> text(CapsuleWords.readme(c)));
    files.put("arithmetic.txt", () -> text(CapsuleWords.arithmetic(c)));
    files.put("passes.csv", () -> text(CapsuleWords.passes(c)));
    files.put("policy.json", () -> text(Capsules.text(c.verdict().policy())));
    files.put("verdict.json", () -> text(Capsules.text(c.verdict())));
    files.put(CONTENTS, () -> text(Capsules.text(c)));
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

  private static void zip(Map<String, Supplier<InputStream>> files, Instant at, OutputStream to)
      throws IOException {
    StringBuilder sums = new StringBuilder();
    try (ZipOutputStream zip = new ZipOutputStream(to, StandardCharsets.UTF_8)) {
      for (Map.Entry<String, Supplier<InputStream>> file : files.entrySet()) {
        MessageDigest digest = Contents.digest();
        try (InputStream bytes = new DigestInputStream(file.getValue().get(), digest)) {
          entry(zip, file.getKey(), bytes, at);
        }
        sums.append(HexFormat.of().formatHex(digest.digest()))
            .append("  ")
            .append(file.getKey())
            .append('\n');
      }
      entry(zip, SUMS, text(sums.toString()), at);
    }
  }

  private static void entry(ZipOutputStream zip, String name, InputStream bytes, Instant at)
      throws IOException {
    ZipEntry entry = new ZipEntry(name);
    // The verdict's own time, so that the same verdict gives the same archive.
    entry.setTime(at.toEpochMilli());
    zip.putNextEntry(entry);
    bytes.transferTo(zip);
    zip.closeEntry();
  }

  private static InputStream text(String text) {
    return new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8));
  }

  private static InputStream bytes(Tx tx, String sha256) {
    return Contents.open(tx, sha256)
        .orElseThrow(() -> new IllegalStateException("no bytes of " + sha256));
  }
}
