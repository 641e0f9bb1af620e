package milewarden.intake;

import java.io.ByteArrayInputStream;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import milewarden.format.fixes.Rereadable;
import milewarden.format.pack.Gzip;
import milewarden.format.pack.Zip;
import milewarden.intake.sheet.SheetWords;
import milewarden.intake.sheet.Sidecars;
import milewarden.intake.tag.ClaimTags;
import milewarden.intake.tag.FolderTags;
import milewarden.intake.tag.KnownDevices;
import milewarden.intake.tag.TagReader;
import milewarden.intake.tag.TagSettling;
import milewarden.intake.tag.TagSettling.Settled;
import milewarden.intake.tag.TagWords;
import milewarden.store.Database;
import milewarden.store.Tx;
import milewarden.store.file.Contents;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.SheetRows;
import milewarden.store.file.Tags;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import milewarden.track.Track;

/**
 * A received track with all that people said of it, read from the store in one transaction.
 *
 * @param bytes as they came: small ones lie in memory, others are read from the store
 * @param weight bytes that it may take up in memory before it is a track
 * @param edits what the tester or a file of tags said
 * @param rows of field sheets that name its path
 * @param alone true where no other track ever came by its path
 * @param counts true where it is a run already
 * @param ownTime false where the field sheet gives one time to several recordings: the session's
 */
record Recording(
    Received file,
    Rereadable.Source bytes,
    long weight,
    List<TagWords> edits,
    List<SheetRows.SheetRow> rows,
    boolean alone,
    boolean counts,
    boolean ownTime) {

  /** Larger ones are read from the store as they are needed: our own choice. */
  private static final int IN_MEMORY = 4 << 20;

  /** What is packed is told by its first bytes to be more: text deflates to a tenth or less. */
  private static final int PACKED_WEIGHT = 16;

  /**
   * @param database where the bytes are read from beyond this transaction
   */
  static Recording load(Tx tx, Database database, Received file) {
    return load(tx, database, file, Said.of(tx, List.of(file)))
        .orElseThrow(() -> new IllegalStateException("no bytes of " + file.sha256()));
  }

  /**
   * As {@link #load(Tx, Database, Received)}; empty where its bytes were not kept.
   *
   * @param said of this file and perhaps others
   */
  static Optional<Recording> load(Tx tx, Database database, Received file, Said said) {
    String sha256 = file.sha256();
    Optional<byte[]> lately = database.lately().take(sha256);
    if (lately.isPresent()) return lately.map(bytes -> load(tx, file, bytes, said));
    Optional<Long> size = Contents.sizeBytes(tx, sha256);
    if (size.isPresent() && size.get() > IN_MEMORY)
      return size.map(
          s -> load(tx, file, () -> Contents.open(database, sha256).orElseThrow(), s, said));
    return size.flatMap(s -> Contents.bytes(tx, sha256)).map(bytes -> load(tx, file, bytes, said));
  }

  private static Recording load(Tx tx, Received file, byte[] bytes, Said said) {
    boolean packed = Gzip.recognises(bytes) || Zip.recognises(bytes);
    long weight = packed ? (long) bytes.length * PACKED_WEIGHT : bytes.length;
    return load(tx, file, () -> new ByteArrayInputStream(bytes), weight, said);
  }

  private static Recording load(
      Tx tx, Received file, Rereadable.Source bytes, long weight, Said said) {
    List<SheetRows.SheetRow> rows = said.rows(file);
    return new Recording(
        file,
        bytes,
        weight,
        edits(tx, file, said),
        rows,
        said.atPath(file).size() <= 1,
        said.run(file).isPresent(),
        rows.stream().noneMatch(row -> sharesTime(tx, row)));
  }

  private static boolean sharesTime(Tx tx, SheetRows.SheetRow row) {
    SheetRows.Words its = row.words();
    Optional<String> time = Optional.ofNullable(its.tags().get(TagName.TIME));
    if (time.isEmpty()) return false;
    // A column that changes nowhere is no start of anything.
    return SheetRows.ofSheet(tx, its.sheet()).stream()
        .map(SheetRows.SheetRow::words)
        .filter(w -> w.key().session().equals(its.key().session()))
        .filter(w -> w.key().unit().equals(its.key().unit()) && !w.path().equals(its.path()))
        .anyMatch(w -> time.equals(Optional.ofNullable(w.tags().get(TagName.TIME))));
  }

  /** The word that holds for the whole recording, before its content is known. */
  Optional<String> said(TagName name) {
    List<TagWords> words = new ArrayList<>(edits);
    words.addAll(SheetWords.of(rows, Optional.empty(), alone));
    return TagSettling.settle(words).value(name);
  }

  /** When it was begun, where a tester or a field sheet says so of this recording alone. */
  Optional<Instant> written(Settled settled, ZoneId zone) {
    Optional<LocalDate> date = spoken(settled, TagName.DATE, LocalDate::parse);
    Optional<LocalTime> time = spoken(settled, TagName.TIME, LocalTime::parse);
    if (!ownTime || date.isEmpty() || time.isEmpty()) return Optional.empty();
    return Optional.of(date.get().atTime(time.get()).atZone(zone).toInstant());
  }

  private static <T> Optional<T> spoken(
      Settled settled, TagName name, java.util.function.Function<String, T> read) {
    return settled
        .held(name)
        .filter(h -> h.source().compareTo(TagSource.SIDECAR) <= 0)
        .flatMap(h -> TagReader.parse(h.value(), read));
  }

  private static List<TagWords> edits(Tx tx, Received file, Said said) {
    List<TagWords> words = new ArrayList<>();
    for (Tags.Tag tag : said.tags(file))
      if (tag.source() == TagSource.EDIT)
        words.add(
            new TagWords(
                tag.pass(), tag.source(), java.util.Map.of(tag.name(), tag.value()), tag.origin()));
    words.addAll(Sidecars.words(tx, said.beside(file)));
    return words;
  }

  /**
   * True where somebody has said something else since: what was computed is out of date.
   *
   * @param now what is said by now
   */
  boolean isStale(Tx tx, Said now) {
    return !edits(tx, file, now).equals(edits) || !now.rows(file).equals(rows);
  }

  /**
   * Every source's words but those of the positions.
   *
   * @param start when it was begun, where that is known
   */
  List<TagWords> words(
      Track track,
      Optional<Instant> start,
      KnownDevices known,
      InboxSettings settings,
      ZoneId zone) {
    List<TagWords> words = new ArrayList<>(edits);
    words.addAll(SheetWords.of(rows, start.map(at -> at.atZone(zone).toLocalDate()), alone));
    words.add(FolderTags.of(file.path(), known));
    words.add(ClaimTags.of(track.claim(), known));
    words.add(TagWords.ofWhole(TagSource.DEFAULT, settings.defaults(), "milewarden.yaml"));
    return words;
  }
}
