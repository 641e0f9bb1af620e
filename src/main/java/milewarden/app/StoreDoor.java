package milewarden.app;

import java.time.InstantSource;
import java.time.ZoneId;
import milewarden.app.config.Config;
import milewarden.app.config.ConfigReader;
import milewarden.cli.Places;
import milewarden.cli.kept.Tools;
import milewarden.cli.kept.Workshop;
import milewarden.people.Actor;
import milewarden.store.Database;
import milewarden.store.keep.StoreCheck;

/** Opens the store of a data folder for the commands, beside a running server or without one. */
final class StoreDoor implements Workshop {
  private final boolean making;

  /** Opens what is there. */
  StoreDoor() {
    this(false);
  }

  /**
   * @param making true where a store that is not there is made
   */
  StoreDoor(boolean making) {
    this.making = making;
  }

  @Override
  public Tools open(Places places) {
    Config config = config(places, making);
    ZoneId zone = config.zone();
    return new Tools(
        Database.open(config.store(), InstantSource.system(), Actor.COMMAND_LINE),
        config.policy(),
        zone,
        ReaderDigits.of(config));
  }

  /** Checks the store of a data folder, which is not changed for it. */
  static StoreCheck.Checked check(Places places) {
    return StoreCheck.check(config(places, false).store(), InstantSource.system());
  }

  private static Config config(Places places, boolean making) {
    Config config =
        ConfigReader.read(places, ServeCommand::variable)
            .fold(
                usable -> usable.config(),
                refused -> {
                  throw new IllegalArgumentException(String.join("; ", refused.why()));
                });
    // A mistyped folder must not be made and then said to hold nothing.
    if (!making && !config.store().isThere())
      throw new IllegalArgumentException(
          "there is no store in " + config.data() + "; name the server's data folder by --data");
    return config;
  }
}
