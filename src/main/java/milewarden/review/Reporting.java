package milewarden.review;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import milewarden.report.Digits;
import milewarden.report.page.verdict.VerdictPage;
import milewarden.report.paper.FirmwareReport;
import milewarden.report.paper.Subject;
import milewarden.store.Id.ModelId;
import milewarden.store.Tx;
import milewarden.store.judged.Capsules;
import milewarden.store.judged.Judgements;
import milewarden.store.judged.Verdicts;
import milewarden.verdict.ModelJudgement;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.VerdictState;

/** Gathers what a report says of one release, from what is stored; decides nothing. */
public final class Reporting {
  /** The archive's name where it lies beside its report. */
  public static final String CAPSULE = "capsule.zip";

  private static final JsonMapper JSON =
      JsonMapper.builder()
          .addModule(new Jdk8Module())
          .enable(SerializationFeature.INDENT_OUTPUT)
          .build();

  private Reporting() {}

  /** The newest verdict on a release. */
  public static Optional<Verdicts.OnRecord> newest(Tx tx, ModelId model, String firmware) {
    return Verdicts.lines(tx, model).stream()
        .filter(v -> v.firmware().equals(firmware))
        .max(Comparator.comparingInt(Verdicts.Line::number))
        .flatMap(v -> Verdicts.find(tx, v.id()));
  }

  /** Today's figures of a release; empty where no such release was judged. */
  public static Optional<FirmwareReport> today(
      Tx tx, ModelId model, String firmware, Policy policy, Digits digits) {
    return Judgements.find(tx, model)
        .filter(j -> j.release(firmware).isPresent())
        .map(j -> of(tx, model, firmware, j, Optional.empty(), policy, true, digits));
  }

  /**
   * A verdict's figures as they were published.
   *
   * @param open false leaves out what was not published
   */
  public static Optional<FirmwareReport> of(
      Tx tx, Verdicts.OnRecord v, Policy policy, boolean open, Digits digits) {
    return Judgements.find(tx, v.model())
        .map(
            j ->
                of(tx, v.model(), v.verdict().firmware(), j, Optional.of(v), policy, open, digits));
  }

  private static FirmwareReport of(
      Tx tx,
      ModelId model,
      String firmware,
      ModelJudgement judged,
      Optional<Verdicts.OnRecord> verdict,
      Policy policy,
      boolean open,
      Digits digits) {
    Subject subject =
        new Subject(
            firmware,
            judged,
            verdict.map(v -> new Subject.Published(v.verdict(), fate(tx, v))),
            open ? Origins.ladders(tx, model) : List.of(),
            policy,
            open,
            verdict.isPresent()
                ? verdict.flatMap(v -> v.verdict().plan())
                : Planning.held(tx, model, firmware, policy).map(Planning.Held::now),
            verdict.flatMap(v -> Capsules.find(tx, v.id())).map(c -> CAPSULE));
    return FirmwareReport.of(subject, digits);
  }

  /** What became of a verdict. */
  public static VerdictPage.Fate fate(Tx tx, Verdicts.OnRecord v) {
    Optional<VerdictPage.Successor> next =
        Verdicts.lines(tx, v.model()).stream()
            .filter(l -> l.number() == v.verdict().number() + 1)
            .findFirst()
            .map(l -> successor(tx, l));
    Optional<VerdictState> judged =
        Judgements.findReadable(tx, v.model())
            .flatMap(ModelJudgement::verdict)
            .map(ModelJudgement.VerdictNow::state);
    return new VerdictPage.Fate(
        v.by(),
        VerdictPage.state(v.withdrawn().isPresent(), !v.superseded(), judged),
        next,
        v.withdrawn().map(w -> new VerdictPage.TakenBack(w.at(), w.by(), w.words())),
        Capsules.find(tx, v.id()).isPresent());
  }

  // Why it was replaced is in the record of the next, which may be damaged.
  private static VerdictPage.Successor successor(Tx tx, Verdicts.Line next) {
    return new VerdictPage.Successor(
        next.number(),
        next.firmware(),
        next.publishedAt(),
        Verdicts.readable(tx, next.model(), new ArrayList<>()).stream()
            .filter(v -> v.id().equals(next.id()))
            .findFirst()
            .flatMap(v -> v.verdict().replaces())
            .map(PublishedVerdict.Replaced::reason));
  }

  /** The same content as the HTML, for programs: numbers not rounded, what is not known is null. */
  public static String json(FirmwareReport report) {
    try {
      return JSON.writeValueAsString(report).replace("\r\n", "\n");
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("a report", e);
    }
  }
}
