package milewarden.intake.tag;

import java.util.EnumMap;
import java.util.Map;
import milewarden.track.TagName;
import milewarden.track.TagSource;

/**
 * What one source says of a recording.
 *
 * @param pass from 1; 0 for the whole recording
 * @param origin where exactly: {@code session.csv, row 4}; may be empty
 */
public record TagWords(int pass, TagSource source, Map<TagName, String> values, String origin) {
  public static final int WHOLE = 0;

  public TagWords {
    if (pass < WHOLE) throw new IllegalArgumentException("pass: " + pass);
    values = Map.copyOf(values);
  }

  public static TagWords ofWhole(TagSource source, Map<TagName, String> values, String origin) {
    Map<TagName, String> filled = new EnumMap<>(TagName.class);
    values.forEach(
        (name, value) -> {
          if (!value.isBlank()) filled.put(name, value.strip());
        });
    return new TagWords(WHOLE, source, filled, origin);
  }
}
