package milewarden.store.file;

import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;
import milewarden.store.Id.FileId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.store.file.ReceivedFiles.Kind;
import milewarden.store.file.ReceivedFiles.Received;
import milewarden.store.file.ReceivedFiles.State;

/** How files stand for people, who can do something for a recording that fits no course yet. */
public final class Standings {
  // What FateFinder says of a recording, and what is tried again when a course comes or changes.
  private static final List<String> OFF_COURSE_CODES = List.of("no-course", "no-pass");
  private static final String OFF_COURSE =
      "state = 'refused' and (kind = 'track' and coalesce(code, '') in (<codes>)) = :off";
  private static final String COUNT_OFF_COURSE =
      "select count(*) as files from received_file where " + OFF_COURSE;
  private static final String PAGE =
      "select "
          + ReceivedFiles.COLUMNS
          + " from received_file where "
          + OFF_COURSE
          + " order by id desc limit :limit";

  private Standings() {}

  /** A state, with what was refused parted by whether a course may still come to fit it. */
  public enum Standing {
    RECEIVED,
    MEASURED,
    /** Waits for a tag. */
    WAITING,
    /** On no course: refused, kept, and taken in by itself as soon as a course fits. */
    OFF_COURSE,
    /** Unreadable. */
    REFUSED,
    DUPLICATE;

    public static Standing of(Received file) {
      return file.state() == State.REFUSED
              && file.kind() == Kind.TRACK
              && file.reason().filter(r -> OFF_COURSE_CODES.contains(r.code())).isPresent()
          ? OFF_COURSE
          : of(file.state());
    }

    private static Standing of(State state) {
      return switch (state) {
        case RECEIVED -> RECEIVED;
        case MEASURED -> MEASURED;
        case WAITING -> WAITING;
        case REFUSED -> REFUSED;
        case DUPLICATE -> DUPLICATE;
      };
    }
  }

  /** How many files stand so; without what stands nowhere. */
  public static Map<Standing, Integer> counts(Tx tx) {
    Map<Standing, Integer> counts = new EnumMap<>(Standing.class);
    ReceivedFiles.counts(tx).forEach((state, n) -> counts.put(Standing.of(state), n));
    int refused = counts.getOrDefault(Standing.REFUSED, 0);
    if (refused == 0) return counts;
    int offCourse =
        tx.query(COUNT_OFF_COURSE)
            .bindList("codes", OFF_COURSE_CODES)
            .bind("off", true)
            .map(Row.as(r -> r.count("files")))
            .one();
    if (offCourse > 0) counts.put(Standing.OFF_COURSE, offCourse);
    if (offCourse == refused) counts.remove(Standing.REFUSED);
    else counts.put(Standing.REFUSED, refused - offCourse);
    return counts;
  }

  /** The same of these files alone. */
  public static Map<Standing, Integer> counts(Tx tx, List<FileId> ids) {
    Map<Standing, Integer> counts = new EnumMap<>(Standing.class);
    ReceivedFiles.withIds(tx, ids).forEach(f -> counts.merge(Standing.of(f), 1, Integer::sum));
    return counts;
  }

  /** The newest files that stand so, newest first. */
  public static List<Received> page(Tx tx, Standing standing, int limit) {
    return switch (standing) {
      case RECEIVED -> ofState(tx, State.RECEIVED, limit);
      case MEASURED -> ofState(tx, State.MEASURED, limit);
      case WAITING -> ofState(tx, State.WAITING, limit);
      case OFF_COURSE -> refused(tx, true, limit);
      case REFUSED -> refused(tx, false, limit);
      case DUPLICATE -> ofState(tx, State.DUPLICATE, limit);
    };
  }

  /** The newest files that stand in one of these ways, newest first. */
  public static List<Received> page(Tx tx, Stream<Standing> standings, int limit) {
    return standings
        .flatMap(s -> page(tx, s, limit).stream())
        .sorted(Comparator.comparing((Received f) -> f.id().value()).reversed())
        .limit(limit)
        .toList();
  }

  private static List<Received> ofState(Tx tx, State state, int limit) {
    return ReceivedFiles.page(tx, Optional.of(state), Optional.empty(), limit);
  }

  private static List<Received> refused(Tx tx, boolean offCourse, int limit) {
    return tx.query(PAGE)
        .bindList("codes", OFF_COURSE_CODES)
        .bind("off", offCourse)
        .bind("limit", limit)
        .map(Row.as(ReceivedFiles::read))
        .list();
  }

  /** Back to the measuring stage with what fits no course yet: one came or changed. */
  public static void tryAgainOffCourse(Tx tx) {
    for (String code : OFF_COURSE_CODES) FileQueue.again(tx, State.REFUSED, code);
  }
}
