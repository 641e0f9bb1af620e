package milewarden.store;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Supplier;
import milewarden.verdict.ModelBrief;
import milewarden.verdict.ModelExcerpt;
import milewarden.verdict.ModelJudgement;

/**
 * Judgements made of their text before: the overview shows all models at once, and reading their
 * text anew each time took nearly all of its time, up to megabytes each. A judgement is taken from
 * here where it was read of the row of the same time, and this program has put no other since:
 * another one's time is another, and two of our own in one tick of the clock are told apart by
 * their order. The brief ones of all models are kept, of the whole ones and of the excerpts those
 * asked for last.
 */
public final class ReadBefore {
  /** Of text, in all: its objects take about as much memory, with equal values as one object. */
  private static final long MOST = 24_000_000;

  /** The same: those of 60 models of thousands of sessions. */
  private static final long MOST_OF_EXCERPTS = 16_000_000;

  /**
   * Of each release in an excerpt: as many marks as stand apart in a column of a chart, and rows as
   * somebody reads. The project's own choice.
   */
  static final int NEWEST = 60;

  /** Whatever else was worked out before. */
  public final Remembered remembered = new Remembered();

  private final AtomicLong order = new AtomicLong();
  private final Map<Long, Entry<ModelBrief>> briefs = new ConcurrentHashMap<>();
  private final Map<Long, Entry<ModelExcerpt>> excerpts = new LinkedHashMap<>(16, 0.75f, true);
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
    Optional<ModelJudgement> known = known(whole, model, at);
    if (known.isPresent()) return known.get();
    String json = text.get();
    ModelJudgement judgement = Json.readShared(json, ModelJudgement.class);
    keep(whole, MOST, model, new Entry<>(at, began, json.length(), judgement));
    return judgement;
  }

  /** The same with the newest sessions alone: of thousands, a tenth of its memory. */
  ModelExcerpt excerpt(long model, String at, long began, Supplier<String> text) {
    Optional<ModelExcerpt> known = known(excerpts, model, at);
    if (known.isPresent()) return known.get();
    synchronized (reading) {
      Optional<ModelExcerpt> before = known(excerpts, model, at);
      if (before.isPresent()) return before.get();
      ModelJudgement judgement =
          known(whole, model, at)
              .orElseGet(() -> Json.readShared(text.get(), ModelJudgement.class));
      ModelExcerpt excerpt = ModelExcerpt.of(judgement, NEWEST);
      int size = Json.write(excerpt).length();
      keep(excerpts, MOST_OF_EXCERPTS, model, new Entry<>(at, began, size, excerpt));
      return excerpt;
    }
  }

  private <T> Optional<T> known(Map<Long, Entry<T>> kept, long model, String at) {
    synchronized (kept) {
      return Optional.ofNullable(kept.get(model))
          .filter(e -> holds(e, model, at))
          .map(Entry::judgement);
    }
  }

  private static <T> void keep(Map<Long, Entry<T>> kept, long most, long model, Entry<T> fresh) {
    synchronized (kept) {
      kept.put(model, fresh);
      long sum = kept.values().stream().mapToLong(Entry::size).sum();
      var eldest = kept.values().iterator();
      while (sum > most && eldest.hasNext()) {
        sum -= eldest.next().size;
        eldest.remove();
      }
    }
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
