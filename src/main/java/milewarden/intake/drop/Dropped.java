package milewarden.intake.drop;

import java.io.ByteArrayInputStream;
import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.InterruptedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.BooleanSupplier;
import milewarden.format.TrackFormats;
import milewarden.format.fixes.Rereadable;
import milewarden.format.pack.Zip;
import milewarden.format.text.ColumnAnswers;
import milewarden.store.Database;
import milewarden.store.file.Contents;
import milewarden.track.Issue;

/**
 * The bytes of one file that came, opened as often as it takes: a small one lies in memory, a
 * larger one is read where it lies.
 */
final class Dropped implements AutoCloseable {
  /** Our own choice: a day's recording is smaller, and is read from the disk once. */
  private static final long SMALL_BYTES = 4L << 20;

  private static final int HEAD = 4;

  private final Rereadable.Source source;
  private final Optional<byte[]> inMemory;
  private Optional<Contents.Packed> packed = Optional.empty();

  private Dropped(Rereadable.Source source, Optional<byte[]> inMemory) {
    this.source = source;
    this.inMemory = inMemory;
  }

  static Dropped of(Rereadable.Source source) {
    return new Dropped(source, Optional.empty());
  }

  /**
   * @param stopping asked while a large file is read: true breaks it off with an
   *     InterruptedIOException
   */
  static Dropped of(Path file, long sizeBytes, BooleanSupplier stopping) throws IOException {
    if (sizeBytes > SMALL_BYTES)
      return of(() -> new Stoppable(Files.newInputStream(file), stopping));
    byte[] bytes = Files.readAllBytes(file);
    return new Dropped(() -> new ByteArrayInputStream(bytes), Optional.of(bytes));
  }

  InputStream open() throws IOException {
    return source.open();
  }

  /**
   * Hashed and deflated, unless that was done beforehand; to be closed by the caller.
   *
   * @param database holds what lies in memory anyhow, until it is measured; its folder takes what
   *     is too much for the memory
   */
  Contents.Packed pack(Database database) throws IOException {
    if (packed.isPresent()) {
      Contents.Packed done = packed.get();
      packed = Optional.empty();
      return done;
    }
    try (InputStream in = open()) {
      Contents.Packed done = Contents.pack(in, database.folder());
      inMemory.ifPresent(bytes -> database.lately().hold(done.sha256(), bytes));
      return done;
    }
  }

  /** Packs what lies in memory and is surely one file, before it is asked for. */
  void packBeforehand(Database database) throws IOException {
    if (inMemory.isPresent() && !isZip()) packed = Optional.of(pack(database));
  }

  /** Lets go of what was packed and not asked for. */
  @Override
  public void close() {
    packed.ifPresent(Contents.Packed::close);
    packed = Optional.empty();
  }

  boolean isZip() throws IOException {
    try (InputStream in = open()) {
      return Zip.recognises(in.readNBytes(HEAD));
    }
  }

  boolean holdsSeveralRecordings() {
    return TrackFormats.read(source, ColumnAnswers.NONE)
        .fold(u -> false, r -> r.why().kind() == Issue.Kind.SEVERAL_RECORDINGS);
  }

  private static final class Stoppable extends FilterInputStream {
    private final BooleanSupplier stopping;

    Stoppable(InputStream in, BooleanSupplier stopping) {
      super(in);
      this.stopping = stopping;
    }

    @Override
    public int read() throws IOException {
      byte[] one = new byte[1];
      return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] bytes, int offset, int length) throws IOException {
      if (stopping.getAsBoolean()) throw new InterruptedIOException("the server stops");
      return super.read(bytes, offset, length);
    }
  }
}
