package milewarden.store.file;

import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import milewarden.store.ChangeRecord;
import milewarden.store.Id.FileId;
import milewarden.store.Row;
import milewarden.store.Tx;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import org.jdbi.v3.core.statement.PreparedBatch;

/** What was said about a recording, by whom; every source's word is kept. */
public final class Tags {
  /** Stands for the whole recording where a tag names a pass. */
  public static final int WHOLE = 0;

  private static final String PUT =
      """
      insert into tag (file_id, pass, name, source, value, origin, set_at)
      values (:file, :pass, :name, :source, :value, :origin, :now)
      on conflict (file_id, pass, name, source)
      do update set value = excluded.value, origin = excluded.origin, set_at = excluded.set_at""";
  private static final String DROP =
      """
      delete from tag where file_id = :file and source = :source""";
  private static final String DROP_ONE =
      """
      delete from tag
       where file_id = :file and pass = :pass and name = :name and source = :source""";
  private static final String OF_FILE =
      """
      select pass, name, source, value, origin, set_at from tag
       where file_id = :file order by pass, name, source""";

  private static final String OF_FILES =
      """
      select file_id, pass, name, source, value, origin, set_at from tag
       where file_id in (<files>) order by file_id, pass, name, source""";

  private Tags() {}

  /**
   * One source's word.
   *
   * @param pass from 1, or {@link #WHOLE}
   * @param origin where exactly: {@code session.csv, row 4}; may be empty
   */
  public record Tag(
      int pass, TagName name, TagSource source, String value, String origin, Instant setAt) {}

  /**
   * What a source that can be read again says of a pass, to be kept with much else.
   *
   * @param source not an edit: what people say themselves is on record
   */
  public record Said(
      FileId file, int pass, TagSource source, Map<TagName, String> values, String origin) {
    public Said {
      if (source == TagSource.EDIT) throw new IllegalArgumentException("an edit is put by itself");
      values = Map.copyOf(values);
    }
  }

  /** Adds or renews what is said of many files. */
  public static void put(Tx tx, List<Said> said) {
    PreparedBatch batch = tx.batch(PUT);
    for (Said s : said)
      s.values()
          .forEach(
              (name, value) ->
                  batch
                      .bind("file", s.file())
                      .bind("pass", s.pass())
                      .bind("name", name)
                      .bind("source", s.source())
                      .bind("value", value)
                      .bind("origin", s.origin())
                      .bind("now", tx.now())
                      .add());
    if (batch.size() > 0) batch.execute();
  }

  /** Adds or renews what one source says of a pass; its other words stay. */
  public static void put(
      Tx tx, FileId file, int pass, TagSource source, Map<TagName, String> values, String origin) {
    if (source == TagSource.EDIT) note(tx, file, pass, values);
    values.forEach(
        (name, value) ->
            tx.update(PUT)
                .bind("file", file)
                .bind("pass", pass)
                .bind("name", name)
                .bind("source", source)
                .bind("value", value)
                .bind("origin", origin)
                .bind("now", tx.now())
                .execute());
  }

  /** Takes back all that one source said, before it says it anew. */
  public static void drop(Tx tx, FileId file, TagSource source) {
    tx.update(DROP).bind("file", file).bind("source", source).execute();
  }

  public static void drop(Tx tx, FileId file, int pass, TagSource source, TagName name) {
    // Only an edit that there is can be taken back.
    if (source == TagSource.EDIT && of(tx, file).stream().anyMatch(t -> isEdit(t, pass, name)))
      note(tx, file, pass, Map.of(name, ""));
    tx.update(DROP_ONE)
        .bind("file", file)
        .bind("pass", pass)
        .bind("source", source)
        .bind("name", name)
        .execute();
  }

  // What people say themselves is on record; sheets and folders can be read again.
  private static void note(Tx tx, FileId file, int pass, Map<TagName, String> values) {
    Map<TagName, Tag> before = winners(of(tx, file), pass);
    String path = ReceivedFiles.find(tx, file).map(ReceivedFiles.Received::path).orElse("");
    values.forEach(
        (name, value) -> {
          Tag known = before.get(name);
          String was = known == null ? "" : known.value();
          if (was.equals(value)) return;
          ChangeRecord.note(
              tx,
              ChangeRecord.What.TAG,
              "file " + file.value() + ", " + path + (pass == WHOLE ? "" : ", pass " + pass),
              name.code()
                  + ": "
                  + said(value, "edit taken back")
                  + ", before: "
                  + said(was, "nothing"));
        });
  }

  private static boolean isEdit(Tag tag, int pass, TagName name) {
    return tag.source() == TagSource.EDIT && tag.pass() == pass && tag.name() == name;
  }

  private static String said(String value, String otherwise) {
    return value.isEmpty() ? otherwise : "`" + value + "`";
  }

  /** Every tag of a file in order of pass, name, source. */
  public static List<Tag> of(Tx tx, FileId file) {
    return tx.query(OF_FILE).bind("file", file).map(Row.as(Tags::read)).list();
  }

  /** The same of several files; those of which nothing is said are left out. */
  public static Map<FileId, List<Tag>> of(Tx tx, List<FileId> files) {
    Map<FileId, List<Tag>> tags = new HashMap<>();
    if (!files.isEmpty())
      tx.query(OF_FILES)
          .bindList("files", files)
          .map(
              Row.as(
                  r ->
                      tags.computeIfAbsent(new FileId(r.number("file_id")), id -> new ArrayList<>())
                          .add(read(r))))
          .list();
    return tags;
  }

  private static Tag read(Row r) throws SQLException {
    return new Tag(
        r.count("pass"),
        r.choice("name", TagName.class),
        r.choice("source", TagSource.class),
        r.text("value"),
        r.text("origin"),
        r.instant("set_at"));
  }

  /**
   * What holds for a pass: the first source wins, and within one source the word about the pass
   * over the word about the whole recording.
   */
  public static Map<TagName, Tag> winners(List<Tag> tags, int pass) {
    Map<TagName, Tag> winners = new EnumMap<>(TagName.class);
    tags.stream()
        .filter(t -> t.pass() == WHOLE || t.pass() == pass)
        .sorted(Comparator.comparing(Tag::source).thenComparing(t -> t.pass() == WHOLE ? 1 : 0))
        .forEach(t -> winners.putIfAbsent(t.name(), t));
    return winners;
  }
}
