package milewarden.store.keep;

import java.io.IOException;
import java.io.InputStream;
import java.security.MessageDigest;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.keep.StoreFinding.Kind;

/** Every content against its hash: a page of names in one transaction, so that none is long. */
final class KeptBytes {
  private static final int PAGE = 64;
  private static final String NAMES =
      """
      select sha256 from content where kept and sha256 > :after order by sha256 limit :limit""";
  private static final String PATH =
      """
      select path from received_file where sha256 = :sha256 order by id limit 1""";

  private KeptBytes() {}

  /** How much was checked. */
  static final class Tally {
    long files;
    long bytes;
  }

  /** Runs work in a reading transaction of its own. */
  @FunctionalInterface
  interface Reading {
    String read(Function<Tx, String> work);
  }

  static void check(Reading store, Tally tally, List<StoreFinding> findings) {
    String after = "";
    do {
      String from = after;
      after = store.read(tx -> page(tx, from, tally, findings));
    } while (!after.isEmpty());
  }

  private static String page(Tx tx, String after, Tally tally, List<StoreFinding> findings) {
    List<String> names =
        tx.query(NAMES).bind("after", after).bind("limit", PAGE).mapTo(String.class).list();
    for (String name : names) {
      Optional<String> wrong = wrong(tx, name, tally);
      wrong.ifPresent(w -> findings.add(StoreFinding.of(Kind.BYTES, sentence(tx, name, w))));
    }
    return names.size() < PAGE ? "" : names.get(names.size() - 1);
  }

  private static Optional<String> wrong(Tx tx, String name, Tally tally) {
    tally.files++;
    long size = Contents.sizeBytes(tx, name).orElse(0L);
    MessageDigest digest = Contents.digest();
    long read = 0;
    try (InputStream in = Contents.open(tx, name).orElse(InputStream.nullInputStream())) {
      byte[] buffer = new byte[1 << 14];
      for (int n = in.read(buffer); n >= 0; n = in.read(buffer)) {
        digest.update(buffer, 0, n);
        read += n;
      }
    } catch (IOException e) {
      return Optional.of("can't be unpacked (" + e.getMessage() + ")");
    }
    tally.bytes += read;
    boolean same = read == size && HexFormat.of().formatHex(digest.digest()).equals(name);
    return same ? Optional.empty() : Optional.of("differ from their hash");
  }

  private static String sentence(Tx tx, String name, String wrong) {
    String path =
        tx.query(PATH).bind("sha256", name).mapTo(String.class).findOne().orElse("a course file");
    return "The stored bytes of " + path + " " + wrong + ": SHA-256 " + name + ".";
  }
}
