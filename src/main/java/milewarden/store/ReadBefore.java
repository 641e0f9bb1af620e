package milewarden.store;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Supplier;
import milewarden.verdict.ModelBrief;
import milewarden.verdict.ModelJudgement;

/**
 * Judgements made of their text before: the overview shows all models at once, and reading their
 * text anew each time took nearly all of its time, up to megabytes each. A judgement is taken from
 * here where it was read of the row of the same time, and this program has put no other since:
 * another one's time is another, and two of our own in one tick of the clock are told apart by
 * their order. The brief ones of all models are kept, of the whole ones those asked for last.
 */
public final class ReadBefore {
  /** Of text, in all: its objects take about as much memory, with equal values as one object. */
  private static final long MOST = 24_000_000;

  /** Whatever else was worked out before. */
  public final Remembered remembered = new Remembered();

  private final AtomicLong order = new AtomicLong();
  private final Map<Long, Entry<ModelBrief>> briefs = new ConcurrentHashMap<>();
  private final Map<Long, Entry<ModelJudgement>> whole = new LinkedHashMap<>(16, 0.75f, true);
  private final Map<Long, Long> put = new ConcurrentHashMap<>();
  // The digest of each model's text that was last read as a whole.
  private final Map<Long, String> readable = new ConcurrentHashMap<>();
  // One at a time: what is read of a text is many times what is kept of it.
  private final Object reading = new Object();

  private record Entry<T>(String at, long began, int size, T judgement) {}

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
    Entry<ModelJudgement> known;
    synchronized (whole) {
      known = whole.get(model);
    }
    if (known != null && holds(known, model, at)) return known.judgement;
    String json = text.get();
    ModelJudgement judgement = Json.readShared(json, ModelJudgement.class);
    synchronized (whole) {
      whole.put(model, new Entry<>(at, began, json.length(), judgement));
      long sum = whole.values().stream().mapToLong(Entry::size).sum();
      var eldest = whole.values().iterator();
      while (sum > MOST && eldest.hasNext()) {
        sum -= eldest.next().size;
        eldest.remove();
      }
    }
    return judgement;
  }

  /** The same without what it rests on. */
  ModelBrief brief(long model, String at, long began, Supplier<String> text) {
    Entry<ModelBrief> known = briefs.get(model);
    if (known != null && holds(known, model, at)) return known.judgement;
    synchronized (reading) {
      Entry<ModelBrief> before = briefs.get(model);
      if (before != null && holds(before, model, at)) return before.judgement;
      ModelBrief brief = Json.readShared(text.get(), ModelBrief.class);
      briefs.put(model, new Entry<>(at, began, 0, brief));
      return brief;
    }
  }

  /**
   * Whether a model's judgement can be read as a whole. What could once can again: then its text is
   * compared by its digest, which takes a twentieth of the time of reading megabytes.
   */
  public boolean isReadable(long model, String text) {
    String digest = digest(text);
    if (digest.equals(readable.get(model))) return true;
    try {
      Json.read(text, ModelJudgement.class);
    } catch (Unreadable e) {
      return false;
    }
    readable.put(model, digest);
    return true;
  }

  private static String digest(String text) {
    try {
      byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
      return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
    } catch (NoSuchAlgorithmException e) {
      throw new IllegalStateException(e);
    }
  }

  private boolean holds(Entry<?> known, long model, String at) {
    return known.at.equals(at) && known.began >= put.getOrDefault(model, 0L);
  }
}
