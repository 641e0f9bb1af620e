package milewarden.store.file;

import milewarden.store.Tx;
import milewarden.store.Row;

import java.io.ByteArrayOutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Optional;
import java.util.zip.DataFormatException;
import java.util.zip.Deflater;
import java.util.zip.Inflater;

/** The bytes that were given to us, known by their SHA-256, each kept once and for good. */
public final class Contents {
  private static final String PUT =
      """
      insert into content (sha256, deflated, size_bytes, stored_at)
      values (:sha256, :deflated, :size, :now)
      on conflict (sha256) do nothing""";
  private static final String BYTES =
      """
      select deflated, size_bytes from content where sha256 = :sha256""";

  private Contents() {}

  /**
   * Bytes hashed and deflated: done before the transaction, because it takes longer than storing.
   */
  public static final class Packed {
    private final String sha256;
    private final byte[] deflated;
    private final int size;

    private Packed(String sha256, byte[] deflated, int size) {
      this.sha256 = sha256;
      this.deflated = deflated;
      this.size = size;
    }

    /** 64 hexadecimal digits in lower case. */
    public String sha256() {
      return sha256;
    }

    /** The number of bytes before deflating. */
    public int sizeBytes() {
      return size;
    }
  }

  public static Packed pack(byte[] bytes) {
    return new Packed(sha256(bytes), deflate(bytes), bytes.length);
  }

  /** The SHA-256 of the bytes: 64 hexadecimal digits in lower case. */
  public static String sha256(byte[] bytes) {
    try {
      return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }

  /** Stores the bytes unless they are there. */
  public static void put(Tx tx, Packed packed) {
    tx.update(PUT)
        .bind("sha256", packed.sha256)
        .bind("deflated", packed.deflated)
        .bind("size", packed.size)
        .bind("now", tx.now())
        .execute();
  }

  /** The bytes as they were given to us. */
  public static Optional<byte[]> bytes(Tx tx, String sha256) {
    return tx.query(BYTES)
        .bind("sha256", sha256)
        .map(Row.as(r -> inflate(r.bytes("deflated"), r.count("size_bytes"))))
        .findOne();
  }

  static byte[] deflate(byte[] bytes) {
    Deflater deflater = new Deflater(Deflater.BEST_SPEED);
    try {
      deflater.setInput(bytes);
      deflater.finish();
      ByteArrayOutputStream out = new ByteArrayOutputStream(bytes.length / 3 + 64);
      byte[] buffer = new byte[8192];
      while (!deflater.finished()) out.write(buffer, 0, deflater.deflate(buffer));
      return out.toByteArray();
    } finally {
      deflater.end();
    }
  }

  static byte[] inflate(byte[] deflated, int size) {
    Inflater inflater = new Inflater();
    try {
      inflater.setInput(deflated);
      byte[] bytes = new byte[size];
      int filled = 0;
      while (filled < size) {
        int n = inflater.inflate(bytes, filled, size - filled);
        if (n == 0) throw new IllegalStateException("stored bytes end early");
        filled += n;
      }
      return bytes;
    } catch (DataFormatException e) {
      throw new IllegalStateException("stored bytes can't be read", e);
    } finally {
      inflater.end();
    }
  }
}
