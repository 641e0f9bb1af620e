package milewarden.store;

import java.lang.ref.SoftReference;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Supplier;
import milewarden.verdict.ModelJudgement;

/**
 * Judgements made of their text before: the overview shows all models at once, and reading their
 * text anew each time took nearly all of its time, up to 400 kB each. A judgement is taken from
 * here where it was read of the row of the same time, and this program has put no other since:
 * another one's time is another, and two of our own in one tick of the clock are told apart by
 * their order. It is given up where memory is short.
 */
public final class ReadBefore {
  /** Whatever else was worked out before. */
  public final Remembered remembered = new Remembered();

  private final AtomicLong order = new AtomicLong();
  private final Map<Long, Entry> judgements = new ConcurrentHashMap<>();
  private final Map<Long, Long> put = new ConcurrentHashMap<>();

  private record Entry(String at, long began, SoftReference<ModelJudgement> judgement) {}

  /** The place in the order of a transaction that begins now. */
  long now() {
    return order.get();
  }

  /** This model's judgement was put anew, and is kept: what began before read another. */
  void put(long model) {
    put.put(model, order.incrementAndGet());
  }

  /**
   * The judgement of a model.
   *
   * @param at when it was judged, as it stands in the row
   * @param began the place in the order of the transaction that read the row
   * @param text reads its text
   */
  ModelJudgement judgement(long model, String at, long began, Supplier<String> text) {
    Entry known = judgements.get(model);
    if (known != null && known.at.equals(at) && known.began >= put.getOrDefault(model, 0L)) {
      ModelJudgement judgement = known.judgement.get();
      if (judgement != null) return judgement;
    }
    ModelJudgement judgement = Json.readShared(text.get(), ModelJudgement.class);
    judgements.put(model, new Entry(at, began, new SoftReference<>(judgement)));
    return judgement;
  }
}
