package milewarden.store.file;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import milewarden.store.Id.BatchId;
import milewarden.store.Id.FileId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.track.TagName;
import org.jdbi.v3.core.statement.PreparedBatch;

/** Every file that came in and what became of it. */
public final class ReceivedFiles {
  static final String COLUMNS =
      """
      id, batch_id, path, sha256, kind, state, duplicate_of, code, place, sentence, missing,
      received_at, settled_at, left_inbox, offers
      """;
  private static final String RECEIVE =
      """
      insert into received_file
             (batch_id, path, sha256, kind, state, duplicate_of, received_at, settled_at)
      values (:batch, :path, :sha256, :kind, :state, :of, :now, :settled)
      returning id""";
  private static final String LEFT =
      """
      update received_file set left_inbox = true where id = :id""";
  private static final String BY_ID = "select " + COLUMNS + " from received_file where id = :id";
  private static final String BY_HASH =
      "select "
          + COLUMNS
          + " from received_file where sha256 = :sha256 and state <> 'duplicate' order by id limit 1";
  private static final String SAME =
      "select "
          + COLUMNS
          + " from received_file where sha256 = :sha256"
          + " and (state <> 'duplicate' or (path = :path and not left_inbox)) order by id";
  private static final String HASHES =
      """
      select distinct sha256 from received_file where sha256 in (<hashes>)""";
  private static final String BY_PATH =
      "select "
          + COLUMNS
          + " from received_file where path = :path and state <> 'duplicate' order by id";
  private static final String BY_PATHS =
      "select "
          + COLUMNS
          + " from received_file where path in (<paths>) and state <> 'duplicate' order by id";
  private static final String COPIES =
      """
      select sha256, path from received_file
       where sha256 in (<hashes>) and state = 'duplicate' order by id""";
  private static final String COPIED_TO =
      """
      select distinct duplicate_of from received_file
       where path = :path and state = 'duplicate'""";
  private static final String BY_IDS =
      "select " + COLUMNS + " from received_file where id in (<ids>) order by id";
  private static final String PAGE =
      "select " + COLUMNS + " from received_file where id < :before order by id desc limit :limit";
  private static final String PAGE_OF_STATE =
      "select "
          + COLUMNS
          + " from received_file where state = :state and id < :before order by id desc limit :limit";

  private static final String COUNTS =
      """
      select state, count(*) as files from received_file group by state order by state""";

  private ReceivedFiles() {}

  /** What a file is taken for. */
  public enum Kind {
    TRACK,
    /** A field sheet: it speaks for the tracks of its folder. */
    SHEET,
    /** A file of tags: it speaks for the one track beside it. */
    SIDECAR
  }

  /** How far a file has come. */
  public enum State {
    /** Safe in the store, not yet measured. */
    RECEIVED,
    /** A track with its results, or a field sheet whose rows were taken. */
    MEASURED,
    /** A needed tag is missing or unknown. */
    WAITING,
    /** Unreadable, or on no course. */
    REFUSED,
    /** The same bytes came before. */
    DUPLICATE
  }

  /**
   * Why a file was refused or waits.
   *
   * @param code a short fixed name: {@code no-course}
   * @param place a line, a byte, a row; empty where it is the whole
   * @param sentence for people: what, where, what to do
   */
  public record Reason(String code, String place, String sentence) {}

  /**
   * A file that came in.
   *
   * @param path in the inbox, with slashes, from the inbox folder on
   * @param sha256 of its bytes, which {@link Contents} gives back
   * @param reason where it is refused or waits
   * @param missing the tags that a file needs which waits for them or for a course, in order of
   *     asking
   * @param offers answers that are proposed for some of them
   */
  public record Received(
      FileId id,
      BatchId batch,
      String path,
      String sha256,
      Kind kind,
      State state,
      Optional<FileId> duplicateOf,
      Optional<Reason> reason,
      List<TagName> missing,
      Instant receivedAt,
      Optional<Instant> settledAt,
      boolean leftInbox,
      List<Offer> offers) {
    public Received {
      missing = List.copyOf(missing);
      offers = List.copyOf(offers);
    }
  }

  /** A file whose bytes are new: it goes to the measuring stage. */
  public static FileId receive(Tx tx, BatchId batch, String path, String sha256, Kind kind) {
    return insert(tx, batch, path, sha256, kind, State.RECEIVED, Optional.empty());
  }

  /** A file whose bytes came before. */
  public static FileId duplicate(
      Tx tx, BatchId batch, String path, String sha256, Kind kind, FileId of) {
    return insert(tx, batch, path, sha256, kind, State.DUPLICATE, Optional.of(of));
  }

  private static FileId insert(
      Tx tx,
      BatchId batch,
      String path,
      String sha256,
      Kind kind,
      State state,
      Optional<FileId> of) {
    return tx.inserting(RECEIVE)
        .bind("batch", batch)
        .bind("path", path)
        .bind("sha256", sha256)
        .bind("kind", kind)
        .bind("state", state)
        .bind("of", of)
        .bind("now", tx.now())
        .bind("settled", state == State.RECEIVED ? Optional.empty() : Optional.of(tx.now()))
        .map(Row.as(r -> new FileId(r.number("id"))))
        .one();
  }

  /** The file was moved out of the inbox. */
  public static void leftInbox(Tx tx, FileId id) {
    leftInbox(tx, List.of(id));
  }

  /** The files were moved out of the inbox. */
  public static void leftInbox(Tx tx, List<FileId> ids) {
    PreparedBatch batch = tx.batch(LEFT);
    for (FileId id : ids) batch.bind("id", id).add();
    if (!ids.isEmpty()) batch.execute();
  }

  public static Optional<Received> find(Tx tx, FileId id) {
    return tx.query(BY_ID).bind("id", id).map(Row.as(ReceivedFiles::read)).findOne();
  }

  /** The first file with these bytes. */
  public static Optional<Received> withHash(Tx tx, String sha256) {
    return tx.query(BY_HASH).bind("sha256", sha256).map(Row.as(ReceivedFiles::read)).findOne();
  }

  /**
   * Those of the hashes whose bytes came before.
   *
   * @param hashes at most some hundred
   */
  public static Set<String> cameBefore(Tx tx, Collection<String> hashes) {
    if (hashes.isEmpty()) return new HashSet<>();
    return new HashSet<>(
        tx.query(HASHES).bindList("hashes", hashes).map(Row.as(r -> r.text("sha256"))).list());
  }

  /** The files with these bytes that are no duplicates, or perhaps still lie at this path. */
  public static List<Received> same(Tx tx, String sha256, String path) {
    return tx.query(SAME)
        .bind("sha256", sha256)
        .bind("path", path)
        .map(Row.as(ReceivedFiles::read))
        .list();
  }

  /** The files that came by this path of the inbox, oldest first; duplicates are left out. */
  public static List<Received> atPath(Tx tx, String path) {
    return tx.query(BY_PATH).bind("path", path).map(Row.as(ReceivedFiles::read)).list();
  }

  /** The same of several paths; those by which nothing came are left out. */
  public static Map<String, List<Received>> atPaths(Tx tx, List<String> paths) {
    if (paths.isEmpty()) return Map.of();
    return tx
        .query(BY_PATHS)
        .bindList("paths", paths)
        .map(Row.as(ReceivedFiles::read))
        .list()
        .stream()
        .collect(Collectors.groupingBy(Received::path));
  }

  /**
   * The paths by which the same bytes came again, oldest first, by their hash.
   *
   * @param hashes at most some hundred
   */
  public static Map<String, List<String>> copies(Tx tx, Collection<String> hashes) {
    Map<String, List<String>> copies = new HashMap<>();
    if (!hashes.isEmpty())
      tx.query(COPIES)
          .bindList("hashes", hashes)
          .map(
              Row.as(
                  r ->
                      copies
                          .computeIfAbsent(r.text("sha256"), h -> new ArrayList<>())
                          .add(r.text("path"))))
          .list();
    return copies;
  }

  /** The files of which a copy came by this path. */
  public static List<FileId> copiedTo(Tx tx, String path) {
    return tx.query(COPIED_TO)
        .bind("path", path)
        .map(Row.as(r -> new FileId(r.number("duplicate_of"))))
        .list();
  }

  static List<Received> withIds(Tx tx, List<FileId> ids) {
    if (ids.isEmpty()) return List.of();
    return tx.query(BY_IDS).bindList("ids", ids).map(Row.as(ReceivedFiles::read)).list();
  }

  /** The newest files before {@code before}, newest first. */
  public static List<Received> page(
      Tx tx, Optional<State> state, Optional<FileId> before, int limit) {
    var query = tx.query(state.isPresent() ? PAGE_OF_STATE : PAGE);
    state.ifPresent(s -> query.bind("state", s));
    return query
        .bind("before", before.map(FileId::value).orElse(Long.MAX_VALUE))
        .bind("limit", limit)
        .map(Row.as(ReceivedFiles::read))
        .list();
  }

  public static Map<State, Integer> counts(Tx tx) {
    return tx.unwritten(COUNTS, () -> counted(tx));
  }

  private static Map<State, Integer> counted(Tx tx) {
    Map<State, Integer> counts = new EnumMap<>(State.class);
    tx.query(COUNTS)
        .map(Row.as(r -> counts.put(r.choice("state", State.class), r.count("files"))))
        .list();
    return Collections.unmodifiableMap(counts);
  }

  static Received read(Row r) throws java.sql.SQLException {
    Optional<Reason> reason = Optional.empty();
    if (r.has("code"))
      reason = Optional.of(new Reason(r.text("code"), r.text("place"), r.text("sentence")));
    return new Received(
        new FileId(r.number("id")),
        new BatchId(r.number("batch_id")),
        r.text("path"),
        r.text("sha256"),
        r.choice("kind", Kind.class),
        r.choice("state", State.class),
        r.has("duplicate_of")
            ? Optional.of(new FileId(r.number("duplicate_of")))
            : Optional.empty(),
        reason,
        split(r.text("missing")),
        r.instant("received_at"),
        r.instantIfAny("settled_at"),
        r.flag("left_inbox"),
        Offer.split(r.text("offers")));
  }

  static String join(List<TagName> names) {
    return String.join(" ", names.stream().map(TagName::code).toList());
  }

  static List<TagName> split(String names) {
    List<TagName> tags = new ArrayList<>();
    for (String name : names.split(" ", -1)) TagName.of(name).ifPresent(tags::add);
    return tags;
  }
}
