package milewarden.cli.kept;

import milewarden.cli.Places;

/** Opens what commands on a data folder work with; given by the program, which knows how. */
@FunctionalInterface
public interface Workshop {
  /**
   * @throws milewarden.store.StoreUnavailable where the store can't be opened
   * @throws IllegalArgumentException where the configuration is wrong, with the words for people
   */
  Tools open(Places places);
}
