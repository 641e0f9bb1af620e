package milewarden.intake;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import milewarden.accuracy.TrackMeasurement;
import milewarden.course.ReferenceCourse;
import milewarden.intake.tag.Gap;
import milewarden.intake.tag.RunTags;
import milewarden.intake.tag.TagWords;
import milewarden.store.file.Offer;
import milewarden.store.file.ReceivedFiles.Reason;

/** What is to become of a received track. */
sealed interface Fate {
  <R> R fold(
      Function<Measured, R> measured,
      Function<Reference, R> reference,
      Function<Waiting, R> waiting,
      Function<Refused, R> refused);

  /** Whether it was refused for want of memory alone. */
  default boolean lackedMemory() {
    return fold(
        m -> false, t -> false, w -> false, r -> r.why().code().equals(IntakeWords.BEYOND_MEMORY));
  }

  /** What was said of the track, also where it goes no further. */
  List<TagWords> words();

  /** A run with its results. */
  record Measured(
      List<TagWords> words,
      RunTags tags,
      ReferenceCourse course,
      TrackMeasurement found,
      Instant start,
      Optional<Instant> end)
      implements Fate {
    @Override
    public <R> R fold(
        Function<Measured, R> m,
        Function<Reference, R> t,
        Function<Waiting, R> w,
        Function<Refused, R> r) {
      return m.apply(this);
    }
  }

  /**
   * The reference track of its session.
   *
   * @param session its tag; empty where nobody named it
   * @param start of its first fix with a time
   * @param end of its last
   */
  record Reference(List<TagWords> words, Optional<String> session, Instant start, Instant end)
      implements Fate {
    @Override
    public <R> R fold(
        Function<Measured, R> m,
        Function<Reference, R> t,
        Function<Waiting, R> w,
        Function<Refused, R> r) {
      return t.apply(this);
    }
  }

  /** Something needed is missing. */
  record Waiting(List<TagWords> words, List<Gap> gaps, Reason why, List<Offer> offers)
      implements Fate {
    public Waiting {
      offers = List.copyOf(offers);
    }

    Waiting(List<TagWords> words, List<Gap> gaps, Reason why) {
      this(words, gaps, why, List.of());
    }

    @Override
    public <R> R fold(
        Function<Measured, R> m,
        Function<Reference, R> t,
        Function<Waiting, R> w,
        Function<Refused, R> r) {
      return w.apply(this);
    }
  }

  /**
   * Unreadable, or on no course.
   *
   * @param gaps what it will need as soon as a course fits it
   */
  record Refused(List<TagWords> words, List<Gap> gaps, Reason why) implements Fate {
    public Refused {
      gaps = List.copyOf(gaps);
    }

    Refused(List<TagWords> words, Reason why) {
      this(words, List.of(), why);
    }

    @Override
    public <R> R fold(
        Function<Measured, R> m,
        Function<Reference, R> t,
        Function<Waiting, R> w,
        Function<Refused, R> r) {
      return r.apply(this);
    }
  }
}
