package milewarden.store.file;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import java.util.zip.InflaterInputStream;
import milewarden.store.Database;
import milewarden.store.Row;
import milewarden.store.Tx;
import org.jdbi.v3.core.statement.PreparedBatch;

/** The bytes that were given to us, known by their SHA-256, each kept once and for good. */
public final class Contents {
  private static final String PUT =
      """
      insert into content (sha256, deflated, size_bytes, stored_at, kept)
      values (:sha256, :deflated, :size, :now, :kept)
      on conflict (sha256) do nothing""";
  private static final String PUT_PART =
      """
      insert into content_part (sha256, number, deflated)
      values (:sha256, :number, :deflated)""";
  private static final String FIRST =
      """
      select deflated, size_bytes from content where sha256 = :sha256 and kept""";
  private static final String SIZE =
      """
      select size_bytes from content where sha256 = :sha256 and kept""";
  private static final String PART =
      """
      select deflated from content_part where sha256 = :sha256 and number = :number""";

  private Contents() {}

  /**
   * Bytes hashed and deflated: done before the transaction, because it takes longer than storing.
   * To be closed when they are stored.
   */
  public static final class Packed implements AutoCloseable {
    private final String sha256;
    private final Parts deflated;
    private final long size;

    private Packed(String sha256, Parts deflated, long size) {
      this.sha256 = sha256;
      this.deflated = deflated;
      this.size = size;
    }

    /** 64 hexadecimal digits in lower case. */
    public String sha256() {
      return sha256;
    }

    /** The number of bytes before deflating. */
    public long sizeBytes() {
      return size;
    }

    @Override
    public void close() {
      try {
        deflated.close();
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
  }

  /** What lies in memory anyhow: it holds nothing that must be closed. */
  public static Packed pack(byte[] bytes) {
    try {
      return pack(new ByteArrayInputStream(bytes), Optional.empty());
    } catch (IOException e) {
      // Bytes in memory fail nobody.
      throw new UncheckedIOException(e);
    }
  }

  /**
   * As {@link #pack(byte[])} for bytes of any number, in bounded memory.
   *
   * @param bytes read to their end; the caller closes them
   * @param folder takes what is too much for the memory, in a file that no one sees
   */
  public static Packed pack(InputStream bytes, Path folder) throws IOException {
    return pack(bytes, Optional.of(folder));
  }

  private static Packed pack(InputStream bytes, Optional<Path> folder) throws IOException {
    MessageDigest digest = digest();
    Parts parts = new Parts(folder);
    Deflater deflater = new Deflater(Deflater.BEST_SPEED);
    long size = 0;
    try {
      DeflaterOutputStream out = new DeflaterOutputStream(parts, deflater, 1 << 13);
      byte[] buffer = new byte[1 << 14];
      for (int n = bytes.read(buffer); n >= 0; n = bytes.read(buffer)) {
        digest.update(buffer, 0, n);
        out.write(buffer, 0, n);
        size += n;
      }
      out.finish();
    } catch (IOException e) {
      parts.close();
      throw e;
    } finally {
      deflater.end();
    }
    return new Packed(HexFormat.of().formatHex(digest.digest()), parts, size);
  }

  /** The SHA-256 of the bytes: 64 hexadecimal digits in lower case. */
  public static String sha256(byte[] bytes) {
    return HexFormat.of().formatHex(digest().digest(bytes));
  }

  /** What a SHA-256 is worked out with, piece by piece. */
  public static MessageDigest digest() {
    try {
      return MessageDigest.getInstance("SHA-256");
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException("every Java platform has SHA-256", e);
    }
  }

  /** Stores the bytes unless they are there. */
  public static void put(Tx tx, Packed packed) {
    int made =
        tx.update(PUT)
            .bind("sha256", packed.sha256)
            .bind("deflated", packed.deflated.part(0))
            .bind("size", packed.size)
            .bind("now", tx.now())
            .bind("kept", true)
            .execute();
    // What was there came with its parts.
    for (int n = 1; made > 0 && n < packed.deflated.count(); n++)
      tx.update(PUT_PART)
          .bind("sha256", packed.sha256)
          .bind("number", n)
          .bind("deflated", packed.deflated.part(n))
          .execute();
  }

  /** As {@link #put(Tx, Packed)} for many; those of one part in one statement. */
  public static void put(Tx tx, List<Packed> all) {
    PreparedBatch small = tx.batch(PUT);
    for (Packed packed : all) {
      if (packed.deflated.count() > 1) put(tx, packed);
      else
        small
            .bind("sha256", packed.sha256)
            .bind("deflated", packed.deflated.part(0))
            .bind("size", packed.size)
            .bind("now", tx.now())
            .bind("kept", true)
            .add();
    }
    if (small.size() > 0) small.execute();
  }

  /**
   * Remembers bytes that no recording can be, without keeping them.
   *
   * @param size their number
   */
  public static void putName(Tx tx, String sha256, long size) {
    tx.update(PUT)
        .bind("sha256", sha256)
        .bind("deflated", new byte[0])
        .bind("size", size)
        .bind("now", tx.now())
        .bind("kept", false)
        .execute();
  }

  /** The number of the bytes, before deflating; empty where they are not kept. */
  public static Optional<Long> sizeBytes(Tx tx, String sha256) {
    return tx.query(SIZE).bind("sha256", sha256).mapTo(Long.class).findOne();
  }

  public static boolean isKept(Tx tx, String sha256) {
    return sizeBytes(tx, sha256).isPresent();
  }

  /**
   * The bytes as they were given to us, all in memory: for what is known to be small.
   *
   * @throws IllegalStateException where what is stored is damaged
   */
  public static Optional<byte[]> bytes(Tx tx, String sha256) {
    Optional<Long> size = sizeBytes(tx, sha256);
    return open(tx, sha256).map(in -> whole(in, size.orElse(0L)));
  }

  private static byte[] whole(InputStream in, long size) {
    try (in) {
      byte[] bytes = in.readNBytes(Math.toIntExact(size));
      if (bytes.length < size) throw new IllegalStateException("stored bytes end early");
      return bytes;
    } catch (IOException | NegativeArraySizeException e) {
      throw new IllegalStateException("stored bytes can't be read", e);
    }
  }

  /** The bytes as they were given to us, as long as the transaction lasts. */
  public static Optional<InputStream> open(Tx tx, String sha256) {
    return open(sha256, number -> part(tx, sha256, number));
  }

  /**
   * The bytes as they were given to us. Each part is read by a transaction of its own: whoever
   * reads slowly holds nobody up, for what is kept never changes.
   */
  public static Optional<InputStream> open(Database database, String sha256) {
    return open(sha256, number -> database.read(tx -> part(tx, sha256, number)));
  }

  private static Optional<InputStream> open(
      String sha256, Function<Integer, Optional<byte[]>> parts) {
    return parts
        .apply(0)
        .map(first -> new InflaterInputStream(new PartStream(sha256, first, parts)));
  }

  private static Optional<byte[]> part(Tx tx, String sha256, int number) {
    return number == 0
        ? tx.query(FIRST).bind("sha256", sha256).map(Row.as(r -> r.bytes("deflated"))).findOne()
        : tx.query(PART)
            .bind("sha256", sha256)
            .bind("number", number)
            .map(Row.as(r -> r.bytes("deflated")))
            .findOne();
  }
}
