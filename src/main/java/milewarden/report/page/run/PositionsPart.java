package milewarden.report.page.run;

import java.util.List;
import java.util.Optional;
import milewarden.accuracy.reference.ReferenceTrack.Compared;
import milewarden.report.Digits;
import milewarden.report.page.Fact;
import milewarden.report.pass.PositionWords;

/**
 * A run's positions against the reference track of its session.
 *
 * @param reference name of the reference track's file
 * @param referenceLink its bytes
 * @param chart every error against time
 * @param table the same by tenths of the time
 */
public record PositionsPart(
    String reference,
    String referenceLink,
    List<Fact> figures,
    List<String> remarks,
    EpochsChart chart,
    String caption,
    List<EpochsChart.Row> table) {
  public PositionsPart {
    figures = List.copyOf(figures);
    remarks = List.copyOf(remarks);
    table = List.copyOf(table);
  }

  /** Empty where no position could be compared: then it was carried at another time. */
  public static Optional<PositionsPart> of(
      String path, String sha256, Compared compared, Digits digits) {
    return compared
        .errors()
        .map(
            e ->
                new PositionsPart(
                    path,
                    "/api/v1/tracks/" + sha256,
                    PositionWords.rows(e, digits).stream()
                        .map(r -> new Fact(r.name(), r.value(), r.meaning()))
                        .toList(),
                    PositionWords.remarks(compared, digits),
                    EpochsChart.of(compared.epochs(), e, digits),
                    PositionWords.caption(
                        e, compared.epochs(), EpochsChart.group(e.epochs()), digits),
                    EpochsChart.table(compared.epochs(), digits)));
  }
}
