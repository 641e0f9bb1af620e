package milewarden.store.statement;

import java.util.Optional;
import java.util.function.Function;
import org.jdbi.v3.core.config.ConfigRegistry;
import org.jdbi.v3.core.statement.DefinedAttributeTemplateEngine;
import org.jdbi.v3.core.statement.StatementContext;
import org.jdbi.v3.core.statement.TemplateEngine;

/**
 * Jdbi's own templates, {@code in (<ids>)}, for the few statements that have one: to look for them
 * in all the others cost as much as to take them apart.
 */
public final class ListTemplates implements TemplateEngine {
  private final TemplateEngine jdbis = new DefinedAttributeTemplateEngine();

  @Override
  public String render(String template, StatementContext context) {
    return isPlain(template) ? template : jdbis.render(template, context);
  }

  @Override
  public Optional<Function<StatementContext, String>> parse(
      String template, ConfigRegistry config) {
    return isPlain(template) ? Optional.of(context -> template) : jdbis.parse(template, config);
  }

  /** Whether nothing in it could be a template's: no name behind a bracket, nothing escaped. */
  static boolean isPlain(String sql) {
    if (sql.indexOf('\\') >= 0) return false;
    for (int at = sql.indexOf('<'); at >= 0; at = sql.indexOf('<', at + 1))
      if (at + 1 < sql.length() && Character.isJavaIdentifierPart(sql.charAt(at + 1))) return false;
    return true;
  }
}
