package milewarden.course;

import java.util.Optional;
import java.util.OptionalDouble;
import milewarden.course.FieldSheet.Certified;
import milewarden.course.LengthBudget.Builder;
import milewarden.course.LengthBudget.Source;
import milewarden.course.LengthBudget.Term;
import milewarden.course.LengthBudget.Warning.Kind;

/**
 * The length behind a certificate. A certified course that carries the factor is between its figure
 * and 1.002 times that (a marathon between 42.195 and 42.279 km, as the sport's pages state it), so
 * 0.1 % on both sides of 1.001.
 */
final class CertifiedBudget {
  private static final double HALF_WIDTH = 0.001;

  private CertifiedBudget() {}

  static LengthBudget of(Certified certified, FieldSheet sheet) {
    Builder budget = new Builder();
    OptionalDouble factor =
        certified.carriesFactor()
            ? OptionalDouble.of(FieldSheet.SAFETY_FACTOR)
            : OptionalDouble.empty();
    double reference = certified.figureM() * factor.orElse(1);
    budget.add(Term.within(Source.CERTIFIED_FIGURE, HALF_WIDTH * reference, true));
    if (factor.isPresent()) budget.warn(Kind.FACTOR_CARRIED, "%.1f m", reference);
    else budget.warn(Kind.FACTOR_NOT_CARRIED, "%.1f m", reference);
    return budget.of(certified.figureM(), factor, sheet, Optional.empty());
  }
}
