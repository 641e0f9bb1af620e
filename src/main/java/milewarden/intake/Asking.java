package milewarden.intake;

import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.intake.doubt.Doubt;
import milewarden.intake.tag.Gap;
import milewarden.intake.tag.TagWords;
import milewarden.report.AskedWords;
import milewarden.store.file.Offer;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.track.TagName;

/** Holds a recording back that leaves something open, until its tester answers. */
final class Asking {
  private Asking() {}

  /** The fate with these questions; a refusal stays what it is. */
  static Fate of(Fate fate, List<Doubt> doubts) {
    if (doubts.isEmpty()) return fate;
    return fate.fold(
        m -> waits(m.words(), List.of(), List.of(), doubts),
        t -> waits(t.words(), List.of(), List.of(), doubts),
        w -> waits(w.words(), w.gaps(), List.of(w.why()), doubts),
        r -> r);
  }

  /** Of a file that can't be read without an answer. */
  static Fate of(List<TagWords> words, List<Doubt> doubts) {
    return waits(words, List.of(), List.of(), doubts);
  }

  private static Fate waits(
      List<TagWords> words, List<Gap> gaps, List<Reason> before, List<Doubt> doubts) {
    List<Gap> all = new ArrayList<>(gaps);
    List<Offer> offers = new ArrayList<>();
    for (Doubt doubt : doubts) {
      all.add(new Gap(doubt.asks(), Gap.Kind.MISSING, ""));
      offers.addAll(doubt.offers());
    }
    List<Reason> reasons = Stream.concat(before.stream(), doubts.stream().map(Doubt::why)).toList();
    String sentence = reasons.stream().map(Reason::sentence).collect(Collectors.joining(" "));
    Reason first = reasons.get(0);
    return new Fate.Waiting(words, all, new Reason(first.code(), first.place(), sentence), offers);
  }

  /** Says on the run that its times were moved. */
  static Fate said(Fate fate, Duration by) {
    return with(fate, new Finding(Finding.Code.CLOCK_MOVED, "", AskedWords.moved(by)));
  }

  /** Says on a run that counts what would have been proposed for its clock. */
  static Fate noted(Fate fate, List<Doubt> doubts) {
    return doubts.stream()
        .filter(d -> d.asks() == TagName.CLOCK)
        .findFirst()
        .map(d -> d.offers().get(0).answers().get(0))
        .map(code -> new Finding(Finding.Code.CLOCK_DOUBTFUL, "", AskedWords.answer(code) + "?"))
        .map(finding -> with(fate, finding))
        .orElse(fate);
  }

  /** Says on a run that it begins after it came in. */
  static Fate ahead(Fate fate, Instant came, Instant start) {
    long days = Duration.between(came, start).toDays();
    return with(fate, new Finding(Finding.Code.CLOCK_DOUBTFUL, "", AskedWords.ahead(days)));
  }

  private static Fate with(Fate fate, Finding finding) {
    return fate.fold(
        m -> {
          List<Finding> findings = new ArrayList<>(m.found().findings());
          findings.add(finding);
          return new Fate.Measured(
              m.words(), m.tags(), m.course(), m.found().with(findings), m.start(), m.end());
        },
        t -> t,
        w -> w,
        r -> r);
  }
}
