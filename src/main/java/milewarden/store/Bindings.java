package milewarden.store;

import java.lang.reflect.Type;
import java.sql.Types;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jdbi.v3.core.argument.Argument;
import org.jdbi.v3.core.argument.ArgumentFactory;
import org.jdbi.v3.core.config.ConfigRegistry;
import org.jspecify.annotations.Nullable;

/** How our own types are bound: ids as numbers, times as text, enums as their codes. */
final class Bindings implements ArgumentFactory {
  @Override
  public Optional<Argument> build(Type type, @Nullable Object value, ConfigRegistry config) {
    Object plain = value instanceof Optional<?> o ? o.orElse(null) : value;
    if (plain instanceof Id id) return number(id.value());
    if (plain instanceof Instant at) return text(Codes.text(at));
    if (plain instanceof LocalDate date) return text(date.toString());
    if (plain instanceof Enum<?> constant) return text(Codes.code(constant));
    if (plain instanceof OptionalDouble d) return real(d);
    if (value instanceof Optional<?> && plain == null)
      return Optional.of((i, statement, context) -> statement.setNull(i, Types.NULL));
    if (value instanceof Optional<?> && plain instanceof String s) return text(s);
    return Optional.empty();
  }

  private static Optional<Argument> number(long value) {
    return Optional.of((i, statement, context) -> statement.setLong(i, value));
  }

  private static Optional<Argument> text(String value) {
    return Optional.of((i, statement, context) -> statement.setString(i, value));
  }

  private static Optional<Argument> real(OptionalDouble value) {
    return Optional.of(
        (i, statement, context) -> {
          if (value.isPresent()) statement.setDouble(i, value.getAsDouble());
          else statement.setNull(i, Types.DOUBLE);
        });
  }
}
