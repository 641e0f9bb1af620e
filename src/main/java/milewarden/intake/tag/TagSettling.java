package milewarden.intake.tag;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import milewarden.track.TagName;
import milewarden.track.TagSource;

/**
 * Which of several sources' words holds: the first source wins, in the order of {@link TagSource};
 * within one source the word about a pass wins over the word about the whole recording, and the
 * later word over the earlier.
 */
public final class TagSettling {
  private TagSettling() {}

  /** A word that holds, and who said it. */
  public record Held(String value, TagSource source, String origin) {}

  /**
   * The words that hold.
   *
   * @param whole for the whole recording
   * @param passes for each pass of which something is said, in order; the whole's words included
   */
  public record Settled(Map<TagName, Held> whole, SortedMap<Integer, Map<TagName, Held>> passes) {
    public Optional<Held> held(TagName name) {
      return Optional.ofNullable(whole.get(name));
    }

    public Optional<String> value(TagName name) {
      return held(name).map(Held::value);
    }
  }

  /** Settles the words of all sources, given in any order. */
  public static Settled settle(List<TagWords> words) {
    SortedMap<Integer, Map<TagName, Held>> passes = new TreeMap<>();
    for (TagWords w : words)
      if (w.pass() != TagWords.WHOLE)
        passes.computeIfAbsent(w.pass(), pass -> winners(words, pass));
    Map<TagName, Held> whole = new EnumMap<>(TagName.class);
    // What the first pass says of unit or course holds for the recording, where nothing else does.
    for (Map<TagName, Held> pass : passes.values()) pass.forEach(whole::putIfAbsent);
    whole.putAll(strongest(winners(words, TagWords.WHOLE), whole));
    return new Settled(whole, passes);
  }

  // A pass's word from a stronger source is not beaten by a weaker one about the whole.
  private static Map<TagName, Held> strongest(Map<TagName, Held> whole, Map<TagName, Held> first) {
    Map<TagName, Held> kept = new EnumMap<>(TagName.class);
    whole.forEach(
        (name, held) -> {
          Held other = first.get(name);
          if (other == null || held.source().compareTo(other.source()) <= 0) kept.put(name, held);
        });
    return kept;
  }

  private static Map<TagName, Held> winners(List<TagWords> words, int pass) {
    List<TagWords> order = new ArrayList<>();
    for (int i = words.size() - 1; i >= 0; i--) {
      TagWords w = words.get(i);
      if (w.pass() == pass || w.pass() == TagWords.WHOLE) order.add(w);
    }
    order.sort(
        Comparator.comparing(TagWords::source)
            .thenComparing(w -> w.pass() == TagWords.WHOLE ? 1 : 0));
    Map<TagName, Held> winners = new EnumMap<>(TagName.class);
    for (TagWords w : order)
      w.values()
          .forEach(
              (name, value) -> winners.putIfAbsent(name, new Held(value, w.source(), w.origin())));
    return winners;
  }
}
