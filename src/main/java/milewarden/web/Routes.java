package milewarden.web;

import io.javalin.config.JavalinConfig;

/** Adds handlers to the server while it is being made. */
@FunctionalInterface
public interface Routes {
  void add(JavalinConfig config);
}
