package milewarden.store;

import java.lang.reflect.Type;
import java.sql.Types;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import org.jdbi.v3.core.argument.Argument;
import org.jdbi.v3.core.argument.ArgumentFactory;
import org.jdbi.v3.core.config.ConfigRegistry;
import org.jspecify.annotations.Nullable;

/**
 * How our own types are bound: ids as numbers, times as text, enums as their codes, what is not
 * there as null.
 */
final class Bindings implements ArgumentFactory.Preparable {
  @Override
  public Optional<Function<@Nullable Object, Argument>> prepare(Type type, ConfigRegistry config) {
    if (!(type instanceof Class<?> plain)) return Optional.empty();
    boolean ours =
        Id.class.isAssignableFrom(plain)
            || Enum.class.isAssignableFrom(plain)
            || plain == Instant.class
            || plain == LocalDate.class
            || plain == OptionalDouble.class
            || plain == Optional.class;
    return ours ? Optional.of(Bindings::argument) : Optional.empty();
  }

  private static Argument argument(@Nullable Object value) {
    if (value instanceof Optional<?> optional) return argument(optional.orElse(null));
    if (value instanceof OptionalDouble real)
      return real.isPresent() ? number(real.getAsDouble()) : missing(Types.DOUBLE);
    if (value == null) return missing(Types.NULL);
    if (value instanceof Id id) return (i, statement, c) -> statement.setLong(i, id.value());
    if (value instanceof Instant at) return text(Codes.text(at));
    if (value instanceof LocalDate date) return text(date.toString());
    if (value instanceof Enum<?> constant) return text(Codes.code(constant));
    if (value instanceof String s) return text(s);
    if (value instanceof Double real) return number(real);
    throw new IllegalArgumentException("can't be bound: " + value.getClass());
  }

  private static Argument text(String value) {
    return (i, statement, c) -> statement.setString(i, value);
  }

  private static Argument number(double value) {
    return (i, statement, c) -> statement.setDouble(i, value);
  }

  private static Argument missing(int type) {
    return (i, statement, c) -> statement.setNull(i, type);
  }
}
