package milewarden.store;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.WeakHashMap;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/**
 * What was worked out of the store before, and holds as long as nothing in it has changed. Never
 * more than a help: what was long not asked for is worked out again. Answers are what a page says,
 * some tens of kilobytes at most, and never the rows that they were worked out of.
 */
public final class Remembered {
  private static final int MOST = 200;

  /** What was read while a connection's stamp was this. */
  private record State(String stamp, Map<Object, Object> read) {}

  /** Those asked for last. */
  private static final class Latest<V> extends LinkedHashMap<Object, V> {
    private static final long serialVersionUID = 1;

    Latest() {
      super(16, 0.75f, true);
    }

    @Override
    protected boolean removeEldestEntry(Map.Entry<Object, V> eldest) {
      return size() > MOST;
    }
  }

  private record Answer(String trace, Object value) {}

  // A stamp of SQLite's is its connection's own.
  private final Map<Object, State> states = new WeakHashMap<>();
  private final Map<Object, Answer> answers = new Latest<>();

  // Of what is being worked out; a key's own, so that one answer may ask for another.
  private final Map<Object, Turn> turns = new ConcurrentHashMap<>();

  /** How many want it, whoever is at work on it included. */
  private static final class Turn {
    private final AtomicInteger wanted = new AtomicInteger();
  }

  // A clock that was set back writes times that are no news: our own changes are counted as well.
  private final AtomicLong changes = new AtomicLong();

  /** Something was changed by this program, and is kept. */
  public void changed() {
    changes.incrementAndGet();
  }

  /** How often something was changed by this program. */
  public long changes() {
    return changes.get();
  }

  /** What this connection read when its stamp was the same, or read anew. */
  public Object read(Object connection, String stamp, Object what, Supplier<Object> read) {
    synchronized (states) {
      State known = states.get(connection);
      Object before = known != null && known.stamp.equals(stamp) ? known.read.get(what) : null;
      if (before != null) return before;
    }
    Object fresh = read.get();
    synchronized (states) {
      State known = states.get(connection);
      if (known == null || !known.stamp.equals(stamp))
        states.put(connection, known = new State(stamp, new Latest<>()));
      known.read.put(what, fresh);
    }
    return fresh;
  }

  /**
   * What was answered to this when the trace was the same, or worked out anew: once, where many ask
   * at once.
   */
  public Object answer(Object key, String trace, Supplier<Object> work) {
    Answer known = known(key, trace);
    if (known != null) return known.value;
    Turn turn = turns.computeIfAbsent(key, k -> new Turn());
    turn.wanted.incrementAndGet();
    synchronized (turn) {
      Answer before = known(key, trace);
      if (before != null) return before.value;
      try {
        Object fresh = work.get();
        synchronized (answers) {
          answers.put(key, new Answer(trace, fresh));
        }
        return fresh;
      } finally {
        turns.remove(key, turn);
      }
    }
  }

  /** What was answered to this last, whatever has changed since. */
  public Optional<Object> last(Object key) {
    synchronized (answers) {
      return Optional.ofNullable(answers.get(key)).map(Answer::value);
    }
  }

  /** True where somebody else waits for what is being worked out. */
  public boolean isAwaited(Object key) {
    Turn turn = turns.get(key);
    return turn != null && turn.wanted.get() > 1;
  }

  private @Nullable Answer known(Object key, String trace) {
    synchronized (answers) {
      Answer known = answers.get(key);
      return known != null && known.trace.equals(trace) ? known : null;
    }
  }
}
