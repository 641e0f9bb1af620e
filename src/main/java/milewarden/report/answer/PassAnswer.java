package milewarden.report.answer;

import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.accuracy.Distances;
import milewarden.accuracy.Errors;
import milewarden.accuracy.Ladder;
import milewarden.units.LengthRange;
import milewarden.units.PercentRange;

/**
 * Distances, errors and ladder of one pass for programs. What a pass has not is empty: a run known
 * by its shown distance alone has neither track nor terms.
 */
public record PassAnswer(DistanceAnswer distance, ErrorAnswer error, TermsAnswer terms) {

  /** Metres. */
  public record DistanceAnswer(
      double referenceM,
      OptionalDouble trackM,
      OptionalDouble recordedM,
      double horizontalReferenceM,
      RangeM shownM) {}

  /** A distance as read, and where it lies by the display's rule. */
  public record RangeM(OptionalDouble asRead, OptionalDouble low, OptionalDouble high) {}

  /** Percent of the reference, positive when the device reads long. */
  public record ErrorAnswer(
      OptionalDouble trackPercent, OptionalDouble recordedPercent, RangePercent shownPercent) {}

  /** A percentage as read, and where it lies by the display's rule. */
  public record RangePercent(OptionalDouble asRead, OptionalDouble low, OptionalDouble high) {}

  /** The steps of the ladder, metres. */
  public record TermsAnswer(
      OptionalDouble slopeM,
      OptionalDouble endsM,
      OptionalDouble lineM,
      OptionalDouble backtrackM,
      OptionalDouble weaveM,
      OptionalDouble bendM,
      OptionalDouble chordM,
      OptionalDouble sourceM,
      IndicationM indicationM) {}

  /** The last step as its interval. */
  public record IndicationM(OptionalDouble low, OptionalDouble high) {}

  public static PassAnswer of(Distances d, Errors e, Ladder l) {
    Optional<LengthRange> shown = d.shownM();
    Optional<PercentRange> shownError = e.shownPercent();
    return new PassAnswer(
        new DistanceAnswer(
            d.referenceM(),
            known(d.trackM()),
            d.recordedM(),
            d.horizontalReferenceM(),
            new RangeM(
                d.shownAsReadM(),
                value(shown.map(LengthRange::lowM)),
                value(shown.map(LengthRange::highM)))),
        new ErrorAnswer(
            e.trackPercent(),
            e.recordedPercent(),
            new RangePercent(
                e.shownAsReadPercent(),
                value(shownError.map(PercentRange::low)),
                value(shownError.map(PercentRange::high)))),
        terms(l));
  }

  private static TermsAnswer terms(Ladder l) {
    return new TermsAnswer(
        known(l.slopeM()),
        known(l.endsM()),
        known(l.lineM()),
        known(l.backtrackM()),
        known(l.weaveM()),
        known(l.bendM()),
        known(l.chordM()),
        l.sourceM(),
        new IndicationM(
            value(l.indicationM().map(LengthRange::lowM)),
            value(l.indicationM().map(LengthRange::highM))));
  }

  private static OptionalDouble value(Optional<Double> value) {
    return value.map(OptionalDouble::of).orElse(OptionalDouble.empty());
  }

  private static OptionalDouble known(double value) {
    return Double.isNaN(value) ? OptionalDouble.empty() : OptionalDouble.of(value);
  }
}
