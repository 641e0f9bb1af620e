package milewarden.benchmark.skeleton;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import gg.jte.ContentType;
import gg.jte.TemplateEngine;
import gg.jte.output.StringOutput;
import io.javalin.Javalin;
import java.util.Map;
import org.flywaydb.core.Flyway;
import org.jdbi.v3.core.Jdbi;
import org.quartz.SchedulerException;
import org.quartz.impl.StdSchedulerFactory;
import org.slf4j.LoggerFactory;

/**
 * A server of the same libraries that does no work: each is set up as its own documentation shows,
 * one after the other. A store with one table, a scheduler without jobs, one page with one value.
 */
public final class Skeleton {
  private Skeleton() {}

  /**
   * Prints its address when it listens, and stays.
   *
   * @param args the file of its store
   */
  public static void main(String[] args) throws SchedulerException {
    HikariConfig pool = new HikariConfig();
    pool.setJdbcUrl("jdbc:sqlite:" + args[0]);
    HikariDataSource source = new HikariDataSource(pool);
    Flyway.configure()
        .dataSource(source)
        .locations("classpath:milewarden/benchmark/skeleton")
        .load()
        .migrate();
    Jdbi jdbi = Jdbi.create(source);
    jdbi.useHandle(
        h -> h.createUpdate("insert into reading (m) values (:m)").bind("m", 400.5).execute());

    new StdSchedulerFactory().getScheduler().start();

    TemplateEngine templates =
        TemplateEngine.createPrecompiled(
            null,
            ContentType.Html,
            Skeleton.class.getClassLoader(),
            Skeleton.class.getPackageName());
    ObjectMapper json = new ObjectMapper();
    Javalin server =
        Javalin.create(
                c -> c.routes.get("/", http -> http.html(page(templates, json, length(jdbi)))))
            .start("127.0.0.1", 0);
    LoggerFactory.getLogger(Skeleton.class).info("ready");
    System.out.println("http://127.0.0.1:" + server.port());
  }

  private static double length(Jdbi jdbi) {
    return jdbi.withHandle(h -> h.createQuery("select m from reading").mapTo(Double.class).one());
  }

  private static String page(TemplateEngine templates, ObjectMapper json, double metres)
      throws JsonProcessingException {
    StringOutput html = new StringOutput();
    templates.render("page.jte", json.writeValueAsString(Map.of("m", metres)), html);
    return html.toString();
  }
}
