package milewarden.store;

import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import milewarden.verdict.ModelJudgement;

/**
 * Judgements made of their text before: the overview shows all models at once, and reading their
 * text anew each time took nearly all of its time. A judgement is taken from here only where its
 * text is the same to the letter, so none is ever out of date.
 */
public final class ReadBefore {
  // What it is made into takes several times the text's own room.
  private static final long MOST_CHARACTERS = Runtime.getRuntime().maxMemory() / 50;

  private final Map<Long, Entry> judgements = new ConcurrentHashMap<>();

  private record Entry(String text, ModelJudgement judgement) {}

  /** The judgement that this text of a model says. */
  public ModelJudgement judgement(long model, String text) {
    Entry known = judgements.get(model);
    if (known != null && known.text.equals(text)) return known.judgement;
    ModelJudgement judgement = Json.read(text, ModelJudgement.class);
    long others = judgements.values().stream().mapToLong(e -> e.text.length()).sum();
    if (others + text.length() <= MOST_CHARACTERS)
      judgements.put(model, new Entry(text, judgement));
    else judgements.remove(model);
    return judgement;
  }
}
