package milewarden.store.statement;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.jdbi.v3.core.Jdbi;
import org.jdbi.v3.core.statement.ColonPrefixSqlParser;
import org.jdbi.v3.core.statement.DefinedAttributeTemplateEngine;
import org.jdbi.v3.core.statement.ParsedSql;
import org.jdbi.v3.core.statement.SqlStatements;
import org.jdbi.v3.core.statement.StatementContext;
import org.jdbi.v3.core.statement.TemplateEngine;
import org.junit.jupiter.api.Test;

/** The short ways through statements, held against Jdbi's own parser and templates. */
final class PlainSqlTest {
  private static final Pattern TEXT = Pattern.compile("\"\"\"\n(.*?)\"\"\"", Pattern.DOTALL);
  private static final List<String> PIECES =
      List.of(
          ":a",
          ":name_2",
          ":B9.c",
          "::text",
          ":",
          "?",
          " ",
          "\n",
          "a",
          "1",
          "(",
          ")",
          ",",
          "=",
          "<",
          ">",
          "<=",
          "<b>",
          "< b >",
          "'it''s :b'",
          "\"q:c\"",
          "'",
          "\"",
          "--",
          "-",
          "/*",
          "*/",
          "\\",
          "\\:",
          "`",
          "ß",
          "#",
          "$1",
          "@",
          "||");

  /** Every text block of the program: its statements are among them. */
  private static List<String> texts() throws Exception {
    List<String> texts = new ArrayList<>();
    try (Stream<Path> files = Files.walk(Path.of("src/main/java/milewarden/store"))) {
      for (Path file : files.filter(f -> f.toString().endsWith(".java")).toList()) {
        Matcher found = TEXT.matcher(Files.readString(file));
        while (found.find()) texts.add(found.group(1).stripIndent().translateEscapes());
      }
    }
    return texts;
  }

  private static List<String> made() {
    Random random = new Random(20261127);
    List<String> made = new ArrayList<>();
    for (int i = 0; i < 20_000; i++) {
      StringBuilder sql = new StringBuilder();
      for (int k = random.nextInt(7); k >= 0; k--)
        sql.append(PIECES.get(random.nextInt(PIECES.size())));
      made.add(sql.toString());
    }
    return made;
  }

  @Test
  void aPlainStatementIsTakenApartAsJdbiDoes() throws Exception {
    List<String> texts = texts();
    long plain = texts.stream().filter(t -> PlainSqlParser.plain(t).isPresent()).count();
    assertThat(plain).isGreaterThan(200);
    texts.addAll(made());
    SqlStatements usual = new SqlStatements();
    StatementContext context =
        Jdbi.create("jdbc:sqlite::memory:")
            .withHandle(h -> h.createUpdate("select 1").getContext());
    assertThat(usual.getSqlParser()).isInstanceOf(ColonPrefixSqlParser.class);
    int compared = 0;
    for (String sql : texts) {
      Optional<ParsedSql> ours = PlainSqlParser.plain(sql);
      if (ours.isEmpty()) continue;
      assertThat(ours.get()).as(sql).isEqualTo(usual.getSqlParser().parse(sql, context));
      compared++;
    }
    assertThat(compared).isGreaterThan(2000);
  }

  @Test
  void aStatementWithoutTemplatesIsWhatJdbiMakesOfIt() throws Exception {
    List<String> texts = texts();
    texts.addAll(made());
    TemplateEngine jdbis = new DefinedAttributeTemplateEngine();
    StatementContext context =
        Jdbi.create("jdbc:sqlite::memory:")
            .withHandle(h -> h.createUpdate("select 1").getContext());
    int compared = 0;
    for (String sql : texts) {
      if (!ListTemplates.isPlain(sql)) continue;
      assertThat(jdbis.render(sql, context)).isEqualTo(sql);
      compared++;
    }
    assertThat(compared).isGreaterThan(10_000);
    assertThat(ListTemplates.isPlain("select id from run where id in (<ids>)")).isFalse();
  }
}
