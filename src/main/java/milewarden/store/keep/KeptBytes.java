package milewarden.store.keep;

import milewarden.store.Tx;
import milewarden.store.file.Contents;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import milewarden.store.keep.StoreFinding.Kind;

/** Every content against its hash: a page of names in one transaction, so that none is long. */
final class KeptBytes {
  private static final int PAGE = 64;
  private static final String NAMES =
      """
      select sha256 from content where sha256 > :after order by sha256 limit :limit""";
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
    byte[] bytes;
    try {
      bytes = Contents.bytes(tx, name).orElse(new byte[0]);
    } catch (org.jdbi.v3.core.JdbiException e) {
      throw e;
    } catch (IllegalStateException | NegativeArraySizeException e) {
      return Optional.of("can't be unpacked (" + e.getMessage() + ")");
    }
    tally.bytes += bytes.length;
    return Contents.sha256(bytes).equals(name)
        ? Optional.empty()
        : Optional.of("differ from their hash");
  }

  private static String sentence(Tx tx, String name, String wrong) {
    String path =
        tx.query(PATH).bind("sha256", name).mapTo(String.class).findOne().orElse("a course file");
    return "The stored bytes of " + path + " " + wrong + ": SHA-256 " + name + ".";
  }
}
