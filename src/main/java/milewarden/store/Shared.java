package milewarden.store;

import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.databind.BeanDescription;
import com.fasterxml.jackson.databind.DeserializationConfig;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.JsonDeserializer;
import com.fasterxml.jackson.databind.deser.BeanDeserializerModifier;
import com.fasterxml.jackson.databind.deser.std.DelegatingDeserializer;
import com.fasterxml.jackson.databind.deser.std.StringDeserializer;
import com.fasterxml.jackson.databind.module.SimpleModule;
import java.io.IOException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.Map;
import java.util.Set;
import milewarden.units.PercentRange;
import milewarden.verdict.Condition;

/**
 * Values that are equal are one object within what is read of one text: a judgement of thousands of
 * sessions names its few conditions, units and days in each of them, and its objects took twice the
 * memory.
 */
final class Shared extends DelegatingDeserializer {
  /** Asks a reader to share; its value is what was read so far. */
  static final Object KEY = Shared.class;

  private static final Set<Class<?>> TYPES =
      Set.of(Condition.class, PercentRange.class, Instant.class, LocalDate.class);
  private static final long serialVersionUID = 1;

  private Shared(JsonDeserializer<?> to) {
    super(to);
  }

  /** For a mapper; without the attribute it reads as any other. */
  static SimpleModule module() {
    return new SimpleModule()
        .setDeserializerModifier(
            new BeanDeserializerModifier() {
              private static final long serialVersionUID = 1;

              @Override
              public JsonDeserializer<?> modifyDeserializer(
                  DeserializationConfig config, BeanDescription of, JsonDeserializer<?> plain) {
                Class<?> type = of.getBeanClass();
                if (type == String.class) return new Shared(StringDeserializer.instance);
                return TYPES.contains(type) ? new Shared(plain) : plain;
              }
            });
  }

  /** The attribute's value for one text. */
  static Map<Object, Object> none() {
    return new HashMap<>();
  }

  @Override
  protected JsonDeserializer<?> newDelegatingInstance(JsonDeserializer<?> to) {
    return new Shared(to);
  }

  @Override
  public Object deserialize(JsonParser p, DeserializationContext context) throws IOException {
    Object read = super.deserialize(p, context);
    if (read == null || !(context.getAttribute(KEY) instanceof Map<?, ?> known)) return read;
    @SuppressWarnings("unchecked")
    Map<Object, Object> all = (Map<Object, Object>) known;
    Object first = all.putIfAbsent(read, read);
    return first == null ? read : first;
  }
}
