package milewarden.store.keep;

import java.io.EOFException;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.DigestInputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.zip.Deflater;
import java.util.zip.ZipEntry;
import java.util.zip.ZipException;
import java.util.zip.ZipFile;
import java.util.zip.ZipOutputStream;
import milewarden.store.PrivateFile;

/** The form of a backup: a zip whose last entry lists the SHA-256 of every other. */
final class BackupFile {
  // As sha256sum writes and checks it: the hash, two spaces, the name.
  private static final String SUMS = "SHA256SUMS";
  private static final String README = "README.txt";
  private static final String WORDS =
      """
      A backup by Milewarden: its store (an SQLite database), its courses and its configuration.
      Put it back with `milewarden restore FILE --data DIR`. To check it by hand, unpack it and run
      sha256sum -c SHA256SUMS
      """;

  private BackupFile() {}

  static void write(Path zip, Map<String, Path> files) throws IOException {
    StringBuilder sums = new StringBuilder();
    PrivateFile.make(zip);
    try (ZipOutputStream out = new ZipOutputStream(Files.newOutputStream(zip))) {
      // Most of a store is deflated already.
      out.setLevel(Deflater.BEST_SPEED);
      for (Map.Entry<String, Path> file : files.entrySet()) {
        out.putNextEntry(new ZipEntry(file.getKey()));
        try (InputStream in = Files.newInputStream(file.getValue())) {
          sums.append(copy(in, out)).append("  ").append(file.getKey()).append('\n');
        }
      }
      out.putNextEntry(new ZipEntry(README));
      out.write(WORDS.getBytes(StandardCharsets.UTF_8));
      out.putNextEntry(new ZipEntry(SUMS));
      out.write(sums.toString().getBytes(StandardCharsets.UTF_8));
    }
  }

  /**
   * Unpacks what the list names, and checks it.
   *
   * @param database the name of the one file that a backup without a list is
   * @return what is wrong with the backup; empty where every hash fits
   */
  static Optional<String> unpack(Path backup, Path into, String database) throws IOException {
    if (!isZip(backup)) return bare(backup, into.resolve(database));
    try (ZipFile zip = new ZipFile(backup.toFile(), StandardCharsets.UTF_8)) {
      Optional<Map<String, String>> sums = sums(zip);
      if (sums.isEmpty() || !sums.get().containsKey(database))
        return Optional.of("it is no backup, or its list " + SUMS + " is gone");
      for (Map.Entry<String, String> file : sums.get().entrySet()) {
        Path target = into.resolve(file.getKey()).normalize();
        ZipEntry entry = zip.getEntry(file.getKey());
        if (entry == null || !target.startsWith(into))
          return Optional.of("its file " + file.getKey() + " is missing");
        Path parent = target.getParent();
        if (parent != null) Files.createDirectories(parent);
        if (file.getKey().equals(database)) PrivateFile.make(target);
        try (InputStream in = zip.getInputStream(entry);
            OutputStream out = Files.newOutputStream(target)) {
          if (!copy(in, out).equals(file.getValue()))
            return Optional.of("the bytes of " + file.getKey() + " differ from their check sum");
        }
      }
      return Optional.empty();
    } catch (ZipException | EOFException e) {
      return Optional.of(String.valueOf(e.getMessage()));
    }
  }

  private static Optional<Map<String, String>> sums(ZipFile zip) throws IOException {
    ZipEntry list = zip.getEntry(SUMS);
    if (list == null) return Optional.empty();
    Map<String, String> sums = new LinkedHashMap<>();
    try (InputStream in = zip.getInputStream(list)) {
      String text = new String(in.readAllBytes(), StandardCharsets.UTF_8);
      for (String line : text.lines().toList()) {
        String[] parts = line.split("  ", 2);
        if (parts.length != 2) return Optional.empty();
        sums.put(parts[1], parts[0]);
      }
    }
    return Optional.of(sums);
  }

  private static Optional<String> bare(Path backup, Path database) throws IOException {
    Path sum = backup.resolveSibling(backup.getFileName() + ".sha256");
    if (!Files.isRegularFile(sum))
      return Optional.of("it is no zip, and the check sum " + sum + " is not beside it");
    PrivateFile.make(database);
    try (InputStream in = Files.newInputStream(backup);
        OutputStream out = Files.newOutputStream(database)) {
      return Files.readString(sum, StandardCharsets.UTF_8).startsWith(copy(in, out))
          ? Optional.empty()
          : Optional.of("its bytes differ from its check sum");
    }
  }

  // PKWARE's APPNOTE, 4.3.7: the signature of a local file header.
  private static boolean isZip(Path file) throws IOException {
    try (InputStream in = Files.newInputStream(file)) {
      byte[] head = in.readNBytes(4);
      return head.length == 4 && head[0] == 'P' && head[1] == 'K' && head[2] == 3 && head[3] == 4;
    }
  }

  /** Copies everything; its SHA-256. */
  private static String copy(InputStream in, OutputStream out) throws IOException {
    try {
      MessageDigest digest = MessageDigest.getInstance("SHA-256");
      new DigestInputStream(in, digest).transferTo(out);
      return HexFormat.of().formatHex(digest.digest());
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }
}
