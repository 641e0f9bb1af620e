package milewarden.web.page;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Function;
import milewarden.report.page.PageLink;
import milewarden.web.desk.Sent;

/** Which of a list are shown, by a word of the address: {@code ?state=failed}. */
final class Choice<E extends Enum<E>> {
  private final String name;
  private final Optional<E> chosen;

  private Choice(String name, Optional<E> chosen) {
    this.name = name;
    this.chosen = chosen;
  }

  /** What the address says; all where it says nothing that there is. */
  static <E extends Enum<E>> Choice<E> of(Context http, String name, Class<E> type) {
    String code = Sent.text(http, name);
    for (E each : type.getEnumConstants())
      if (code(each).equals(code)) return new Choice<E>(name, Optional.of(each));
    return new Choice<E>(name, Optional.<E>empty());
  }

  Optional<E> chosen() {
    return chosen;
  }

  boolean shows(E each) {
    return chosen.isEmpty() || chosen.get() == each;
  }

  /** The ways to choose at this address; none where there is but one. */
  List<PageLink> links(String address, List<E> there, Function<E, String> words) {
    if (there.size() < 2 && chosen.isEmpty()) return List.of();
    List<PageLink> links = new ArrayList<>();
    links.add(new PageLink("all", address, chosen.isEmpty()));
    for (E each : there)
      links.add(
          new PageLink(
              words.apply(each),
              address + "?" + name + "=" + code(each),
              chosen.filter(each::equals).isPresent()));
    return links;
  }

  private static String code(Enum<?> each) {
    return each.name().toLowerCase(Locale.ROOT).replace('_', '-');
  }
}
