package milewarden.intake;

import java.util.Optional;
import milewarden.store.run.WrittenMeasurement;

/**
 * A fate, and what of it takes long to write, both made outside of the turn to write.
 *
 * @param beforehand empty where there is nothing to write, or where it fails: the one recording
 *     tells then, when it is kept
 */
record Found(Fate fate, Optional<WrittenMeasurement> beforehand) {
  static Found of(Fate fate) {
    return new Found(
        fate,
        fate.fold(
            Found::beforehand,
            t -> Optional.empty(),
            w -> Optional.empty(),
            r -> Optional.empty()));
  }

  private static Optional<WrittenMeasurement> beforehand(Fate.Measured fate) {
    try {
      return Optional.of(WrittenMeasurement.of(fate.found()));
    } catch (RuntimeException | OutOfMemoryError e) {
      return Optional.empty();
    }
  }

  /** What is written of a fate, which may be another by now. */
  WrittenMeasurement written(Fate.Measured now) {
    return beforehand
        .filter(w -> w.measurement() == now.found())
        .orElseGet(() -> WrittenMeasurement.of(now.found()));
  }
}
