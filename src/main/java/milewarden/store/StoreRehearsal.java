package milewarden.store;

import org.sqlite.SQLiteDataSource;

/**
 * A store in memory, asked for one thing: afterwards the libraries between a statement and its
 * answer are loaded, which a start can do beside the making of the tables.
 */
public final class StoreRehearsal {
  private StoreRehearsal() {}

  /** Keeps nothing; the answer is what was asked for. */
  public static long run() {
    NativePart.load();
    SQLiteDataSource source = new SQLiteDataSource();
    source.setUrl("jdbc:sqlite::memory:");
    return Database.jdbi(source)
        .withHandle(
            handle -> {
              handle.execute("create table said (word text not null, number integer)");
              handle
                  .createUpdate("insert into said (word, number) values (:word, :number)")
                  .bind("word", "one")
                  .bind("number", 1L)
                  .execute();
              return handle
                  .createQuery("select number from said where word = :word and number > :least")
                  .bind("word", "one")
                  .bind("least", 0L)
                  .mapTo(Long.class)
                  .one();
            });
  }
}
