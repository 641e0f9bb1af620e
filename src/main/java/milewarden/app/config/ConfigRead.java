package milewarden.app.config;

import java.util.List;
import java.util.function.Function;

/** What reading the configuration gave: settings, or everything that is wrong with it. */
public sealed interface ConfigRead {
  <R> R fold(Function<Usable, R> usable, Function<Refused, R> refused);

  /** Settings to start with. */
  record Usable(Config config) implements ConfigRead {
    @Override
    public <R> R fold(Function<Usable, R> u, Function<Refused, R> r) {
      return u.apply(this);
    }
  }

  /** Sentences, each with file, line and remedy; at least one. */
  record Refused(List<String> why) implements ConfigRead {
    public Refused {
      why = List.copyOf(why);
    }

    @Override
    public <R> R fold(Function<Usable, R> u, Function<Refused, R> r) {
      return r.apply(this);
    }
  }
}
