package milewarden.store;

import java.util.OptionalInt;
import org.jdbi.v3.core.Jdbi;
import org.jdbi.v3.core.JdbiException;
import org.sqlite.SQLiteConfig;
import org.sqlite.SQLiteDataSource;

/** A look into a store that brings nothing up to date: for what is checked before a start. */
public final class StoreLook {
  private static final String KEEPERS =
      "select count(*) from person where left_at is null and role = 'keeper'";

  private StoreLook() {}

  /**
   * How many keepers can log in.
   *
   * @return empty where the store can't be read; 0 where it is of a version before there were any
   */
  public static OptionalInt keepers(StoreSettings settings) {
    if (!settings.isThere()) return OptionalInt.of(0);
    Jdbi jdbi = jdbi(settings);
    try {
      jdbi.useHandle(h -> h.createQuery("select count(*) from model").mapTo(Integer.class).one());
    } catch (JdbiException e) {
      return OptionalInt.empty();
    }
    try {
      return OptionalInt.of(
          jdbi.withHandle(h -> h.createQuery(KEEPERS).mapTo(Integer.class).one()));
    } catch (JdbiException e) {
      return OptionalInt.of(0);
    }
  }

  private static Jdbi jdbi(StoreSettings settings) {
    if (settings.url().isPresent())
      return Jdbi.create(
          settings.url().get(), settings.user().orElse(""), settings.password().orElse(""));
    SQLiteConfig config = new SQLiteConfig();
    config.setReadOnly(true);
    SQLiteDataSource source = new SQLiteDataSource(config);
    source.setUrl("jdbc:sqlite:" + settings.file());
    return Jdbi.create(source);
  }
}
