package milewarden.app;

import java.io.PrintWriter;
import java.time.InstantSource;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Pattern;
import milewarden.app.config.Config;
import milewarden.cli.Exit;
import milewarden.cli.Job;
import milewarden.cli.Places;
import milewarden.cli.PlainLine;
import milewarden.web.WebSettings;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** The job of {@code serve}. */
record Serving(Places places) implements Job {
  private static final Pattern PORT = Pattern.compile("[0-9]{1,5}");

  /** That of a plain line. */
  static Optional<Job> plain(List<String> line) {
    Set<String> valued = Set.of("--data", "--config", "--courses", "--port");
    return PlainLine.job(line, valued, Set.of(), Serving::of);
  }

  private static Optional<Job> of(PlainLine line) {
    Optional<String> port = line.value("--port");
    if (!line.operands().isEmpty()) return Optional.empty();
    if (port.isPresent() && !PORT.matcher(port.get()).matches()) return Optional.empty();
    Places places = line.path("--data").map(Places::of).orElseGet(Places::new);
    line.path("--config").ifPresent(places::withConfig);
    line.path("--courses").ifPresent(places::withCourses);
    return Optional.of(new Serving(places.withPort(port.map(Integer::valueOf))));
  }

  @Override
  public int run(PrintWriter out, PrintWriter err) throws InterruptedException {
    Optional<Config> config = ServeCommand.config(places, err);
    if (config.isEmpty()) return Exit.WRONG_USE;
    try (App app = new App(config.get(), InstantSource.system()).start()) {
      welcome(config.get(), app.port(), out);
      // Not before: the log is set up beside the reading of the line.
      Logger log = LoggerFactory.getLogger(Serving.class);
      log.info(
          "serves {} at port {} of {}, store {}",
          config.get().data().toAbsolutePath().normalize(),
          app.port(),
          config.get().address(),
          config.get().store().where());
      Stopping.await(app);
    }
    return Exit.DONE;
  }

  private static void welcome(Config config, int at, PrintWriter out) {
    WebSettings web = new WebSettings(config.address(), config.port(), config.publicUrl());
    out.println("Dashboard:   " + web.here(at));
    config.publicUrl().ifPresent(url -> out.println("For readers: " + url));
    out.println("Drop files:  " + config.data().resolve("inbox").toAbsolutePath().normalize());
    out.println("Courses:     " + config.courses().toAbsolutePath().normalize());
    out.println("Stop with Ctrl-C.");
    out.flush();
  }
}
