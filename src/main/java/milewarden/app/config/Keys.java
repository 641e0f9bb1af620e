package milewarden.app.config;

import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Takes settings out of a YAML file, key by key, and remembers what was asked for, so that a key
 * that nobody asked for is refused: a typing error in a limit must not pass.
 */
final class Keys {
  private static final Pattern SPAN =
      Pattern.compile("(\\d{1,9})\\s*(ms|s|min|h|d)", Pattern.CASE_INSENSITIVE);

  private final YamlFile file;
  private final Set<String> asked = new LinkedHashSet<>();
  private final List<YamlFile.Problem> problems;

  Keys(YamlFile file) {
    this.file = file;
    this.problems = new ArrayList<>(file.problems());
  }

  /** True where the file gives this key. */
  boolean has(String key) {
    asked.add(key);
    return file.entries().containsKey(key);
  }

  /** The texts of a list; a single text is a list of one. */
  List<String> texts(String key, List<String> otherwise) {
    asked.add(key);
    YamlFile.Entry entry = file.entries().get(key);
    return entry == null ? otherwise : entry.texts();
  }

  /** An empty value counts as not given. */
  Optional<String> text(String key) {
    asked.add(key);
    YamlFile.Entry entry = file.entries().get(key);
    if (entry == null) return Optional.empty();
    if (entry.list()) {
      refuse(key, "takes one value, not a list");
      return Optional.empty();
    }
    return entry.texts().stream().findFirst().map(String::strip).filter(t -> !t.isEmpty());
  }

  String text(String key, String otherwise) {
    return text(key).orElse(otherwise);
  }

  /** A value that {@code read} understands; {@code wanted} says in words what that is. */
  <T> T value(String key, T otherwise, String wanted, Function<String, Optional<T>> read) {
    Optional<String> text = text(key);
    if (text.isEmpty()) return otherwise;
    Optional<T> value = text.flatMap(read);
    if (value.isEmpty()) refuse(key, "is `" + text.get() + "`; write " + wanted);
    return value.orElse(otherwise);
  }

  /** A whole number from low to high, both included. */
  int number(String key, int otherwise, int low, int high) {
    return value(
        key,
        otherwise,
        "a whole number from " + low + " to " + high,
        t -> parse(t, Integer::valueOf).filter(n -> n >= low && n <= high));
  }

  /** A finite number from low to high, both included. */
  double real(String key, double otherwise, double low, double high) {
    return value(
        key,
        otherwise,
        "a number from " + plain(low) + " to " + plain(high),
        t -> parse(t, Double::valueOf).filter(n -> n >= low && n <= high));
  }

  /** A span of time such as {@code 500 ms}, {@code 2 s}, {@code 3 h}; above 0. */
  Duration span(String key, Duration otherwise) {
    return value(
        key, otherwise, "a span of time above 0: 500 ms, 2 s, 10 min, 3 h or 1 d", Keys::span);
  }

  private static Optional<Duration> span(String text) {
    Matcher m = SPAN.matcher(text);
    if (!m.matches()) return Optional.empty();
    long n = Long.parseLong(m.group(1));
    Duration span =
        switch (m.group(2).toLowerCase(java.util.Locale.ROOT)) {
          case "ms" -> Duration.ofMillis(n);
          case "s" -> Duration.ofSeconds(n);
          case "min" -> Duration.ofMinutes(n);
          case "h" -> Duration.ofHours(n);
          default -> Duration.ofDays(n);
        };
    return Optional.of(span).filter(d -> !d.isZero());
  }

  static <T> Optional<T> parse(String text, Function<String, T> read) {
    try {
      return Optional.of(read.apply(text));
    } catch (IllegalArgumentException | java.time.DateTimeException e) {
      return Optional.empty();
    }
  }

  private static String plain(double number) {
    return java.math.BigDecimal.valueOf(number).stripTrailingZeros().toPlainString();
  }

  /** Notes a wrong value with its line. */
  void refuse(String key, String why) {
    YamlFile.Entry entry = file.entries().get(key);
    int line = entry == null ? 0 : entry.line();
    problems.add(new YamlFile.Problem(file.name(), line, "`" + key + "` " + why));
  }

  /** Every problem, also the keys that nobody asked for; call it last. */
  List<YamlFile.Problem> problems() {
    List<YamlFile.Problem> all = new ArrayList<>(problems);
    file.entries()
        .forEach(
            (key, entry) -> {
              if (asked.contains(key)) return;
              String near =
                  nearest(key).map(k -> "did you mean `" + k + "`?").orElse("take it out");
              all.add(
                  new YamlFile.Problem(
                      file.name(), entry.line(), "`" + key + "` is no setting; " + near));
            });
    return all;
  }

  /** The keys that were asked for so far, in order. */
  Set<String> asked() {
    return asked;
  }

  private Optional<String> nearest(String key) {
    return asked.stream()
        .filter(k -> distance(k, key) <= 3 || lastPart(k).equals(lastPart(key)))
        .min(java.util.Comparator.comparingInt(k -> distance(k, key)));
  }

  private static String lastPart(String key) {
    return key.substring(key.lastIndexOf('.') + 1);
  }

  // Edit distance of Levenshtein (1966), two rows.
  private static int distance(String a, String b) {
    int[] above = new int[b.length() + 1];
    for (int j = 0; j <= b.length(); j++) above[j] = j;
    for (int i = 1; i <= a.length(); i++) {
      int[] row = new int[b.length() + 1];
      row[0] = i;
      for (int j = 1; j <= b.length(); j++) {
        int change = above[j - 1] + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
        row[j] = Math.min(change, 1 + Math.min(above[j], row[j - 1]));
      }
      above = row;
    }
    return above[b.length()];
  }
}
