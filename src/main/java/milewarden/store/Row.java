package milewarden.store;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jdbi.v3.core.mapper.RowMapper;

/** A row of an answer, read by column name into the types of the records. */
public final class Row {
  private final ResultSet row;

  private Row(ResultSet row) {
    this.row = row;
  }

  /** Makes one record of one row. */
  @FunctionalInterface
  public interface Reader<T> {
    T read(Row row) throws SQLException;
  }

  public static <T> RowMapper<T> as(Reader<T> reader) {
    return (rs, context) -> reader.read(new Row(rs));
  }

  /**
   * The same of records that may be damaged.
   *
   * @param rest of a damaged one, from what its other columns say
   * @param unread is given that
   */
  public static <T, U> RowMapper<Optional<T>> readable(
      Reader<T> reader, Reader<U> rest, List<U> unread) {
    return as(
        row -> {
          try {
            return Optional.of(reader.read(row));
          } catch (Unreadable e) {
            unread.add(rest.read(row));
            return Optional.empty();
          }
        });
  }

  public String text(String column) throws SQLException {
    String value = row.getString(column);
    if (value == null) throw new IllegalStateException(column + " is missing");
    return value;
  }

  public Optional<String> textIfAny(String column) throws SQLException {
    return Optional.ofNullable(row.getString(column));
  }

  public boolean has(String column) throws SQLException {
    row.getObject(column);
    return !row.wasNull();
  }

  public long number(String column) throws SQLException {
    return row.getLong(column);
  }

  public int count(String column) throws SQLException {
    return row.getInt(column);
  }

  public boolean flag(String column) throws SQLException {
    return row.getBoolean(column);
  }

  public double real(String column) throws SQLException {
    return row.getDouble(column);
  }

  /** Not a number where the column is null. */
  public double realOrNan(String column) throws SQLException {
    return realIfAny(column).orElse(Double.NaN);
  }

  public OptionalDouble realIfAny(String column) throws SQLException {
    double value = row.getDouble(column);
    return row.wasNull() ? OptionalDouble.empty() : OptionalDouble.of(value);
  }

  public Instant instant(String column) throws SQLException {
    return Instant.parse(text(column));
  }

  public Optional<Instant> instantIfAny(String column) throws SQLException {
    return textIfAny(column).map(Instant::parse);
  }

  public LocalDate date(String column) throws SQLException {
    return LocalDate.parse(text(column));
  }

  public byte[] bytes(String column) throws SQLException {
    byte[] value = row.getBytes(column);
    if (value == null) throw new IllegalStateException(column + " is missing");
    return value;
  }

  Optional<byte[]> bytesIfAny(String column) throws SQLException {
    return Optional.ofNullable(row.getBytes(column));
  }

  public <E extends Enum<E>> E choice(String column, Class<E> type) throws SQLException {
    return Codes.constant(type, text(column));
  }

  <E extends Enum<E>> Optional<E> choiceIfAny(String column, Class<E> type) throws SQLException {
    return textIfAny(column).map(code -> Codes.constant(type, code));
  }
}
