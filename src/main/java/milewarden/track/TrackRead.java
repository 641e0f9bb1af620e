package milewarden.track;

import java.util.function.Function;

/** What reading a file gave: a track and what was dropped, or a refusal. */
public sealed interface TrackRead {
  <R> R fold(Function<Usable, R> usable, Function<Refused, R> refused);

  /** A track with at least one fix. */
  record Usable(Track track, Drops drops) implements TrackRead {
    @Override
    public <R> R fold(Function<Usable, R> u, Function<Refused, R> r) {
      return u.apply(this);
    }
  }

  /** Nothing could be read, and why. */
  record Refused(Issue why) implements TrackRead {
    @Override
    public <R> R fold(Function<Usable, R> u, Function<Refused, R> r) {
      return r.apply(this);
    }
  }
}
