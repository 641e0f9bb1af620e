package milewarden.course.draft;

import java.util.function.Function;

/** What drafting a course from a track gave. */
public sealed interface DraftResult {
  <R> R fold(Function<Drafted, R> drafted, Function<Failed, R> failed);

  /** Why there is no draft. Closed list. */
  enum Reason {
    TOO_FEW_FIXES,
    /** The track is too short for the measured length. */
    PATH_SHORTER,
    /** The track is so long that no sensible smoothing makes them agree. */
    PATH_LONGER,
    /** A loop was asked for, but the track does not come back to its start. */
    NOT_A_LOOP
  }

  /** A draft whose line and measured length agree. */
  record Drafted(CourseDraft draft) implements DraftResult {
    @Override
    public <R> R fold(Function<Drafted, R> d, Function<Failed, R> f) {
      return d.apply(this);
    }
  }

  /** No draft, with the numbers that belong to the reason. */
  record Failed(Reason reason, String detail) implements DraftResult {
    @Override
    public <R> R fold(Function<Drafted, R> d, Function<Failed, R> f) {
      return f.apply(this);
    }
  }
}
