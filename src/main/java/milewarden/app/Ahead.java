package milewarden.app;

import milewarden.store.StoreRehearsal;
import milewarden.web.Rehearsal;
import org.slf4j.LoggerFactory;

/**
 * Loads the libraries of a server's store and pages on a thread of its own, while the command line
 * is still read and the tables made: that is half of the work of a start, and there are two
 * processors.
 */
final class Ahead {
  private Ahead() {}

  static void start() {
    Thread thread = new Thread(Ahead::load, "ahead");
    thread.setDaemon(true);
    thread.start();
  }

  private static void load() {
    try {
      // The log is set up by whoever asks first.
      LoggerFactory.getILoggerFactory();
      // In the order in which the start comes to need them.
      StoreRehearsal.run();
      Rehearsal.run();
    } catch (Exception | LinkageError e) {
      // Where it matters it comes again, and is told there.
      LoggerFactory.getLogger(Ahead.class).debug("not loaded ahead", e);
    }
  }
}
