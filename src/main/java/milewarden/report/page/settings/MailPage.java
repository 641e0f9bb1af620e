package milewarden.report.page.settings;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import milewarden.recipient.Audience;
import milewarden.recipient.Recipient;
import milewarden.report.DamageWords;
import milewarden.report.RecipientWords;
import milewarden.report.page.Links;
import milewarden.units.UnitChoice;
import milewarden.verdict.DueItem;

/**
 * Who is told, and the form that changes it.
 *
 * @param leaves how messages leave, in a sentence
 * @param done what was just done
 * @param refusal why what was sent is not taken
 * @param unread of whom the choice is damaged, and what to do; empty text where of nobody
 * @param hook true where there is a webhook to be tried
 */
public record MailPage(
    String sentence,
    String leaves,
    List<Person> people,
    Form form,
    String done,
    String refusal,
    String unread,
    boolean hook) {
  public MailPage {
    people = List.copyOf(people);
  }

  /**
   * Somebody who is told.
   *
   * @param edit to the form with their choice; empty text where the configuration names them
   */
  public record Person(String address, String what, String when, String edit) {}

  /** A box to tick. */
  public record Box(String code, String words, boolean ticked) {}

  /** What stands in the form. */
  public record Form(
      String address,
      List<Box> models,
      List<Box> severities,
      boolean digest,
      String digestAt,
      String quietFrom,
      String quietTo,
      boolean wrongVerdictAtOnce,
      String zone,
      List<Box> units,
      List<Box> locales) {
    public Form {
      models = List.copyOf(models);
      severities = List.copyOf(severities);
      units = List.copyOf(units);
      locales = List.copyOf(locales);
    }
  }

  /**
   * The page.
   *
   * @param shown whose choice stands in the form
   * @param address of the form, where it differs from that
   * @param models all that there are
   * @param readings units and numerals that there are to choose
   */
  public static MailPage of(
      Audience audience,
      List<Recipient> chosen,
      Recipient shown,
      boolean blank,
      Set<String> models,
      String leaves,
      ReadingChoice readings,
      String done,
      String refusal) {
    List<Person> people = new ArrayList<>();
    for (Recipient r : audience.with(chosen)) people.add(person(r, chosen.contains(r)));
    return new MailPage(
        people.isEmpty()
            ? "Nobody is told by mail: add an address."
            : "Who is told by mail, of what and when.",
        leaves,
        people,
        form(shown, blank, models, readings),
        done,
        refusal,
        "",
        audience.hook());
  }

  /** The same where some receivers' choices are damaged. */
  public MailPage without(List<String> addresses) {
    return addresses.isEmpty()
        ? this
        : new MailPage(
            sentence,
            leaves,
            people,
            form,
            done,
            refusal,
            DamageWords.choices(String.join(", ", addresses)),
            hook);
  }

  private static Person person(Recipient r, boolean chosen) {
    return new Person(
        r.address(),
        RecipientWords.what(r),
        RecipientWords.when(r),
        chosen ? Links.mail(r.address()) : "");
  }

  private static Form form(Recipient r, boolean blank, Set<String> models, ReadingChoice readings) {
    Set<String> all = new TreeSet<>(models);
    all.addAll(r.models());
    return new Form(
        blank ? "" : r.address(),
        all.stream().map(m -> new Box(m, m, r.models().contains(m))).toList(),
        Arrays.stream(DueItem.Severity.values())
            .map(s -> new Box(s.code(), RecipientWords.of(s), r.severities().contains(s)))
            .toList(),
        r.delivery() == Recipient.Delivery.DAILY_DIGEST,
        RecipientWords.time(r.digestAt()),
        r.quiet().map(q -> RecipientWords.time(q.from())).orElse(""),
        r.quiet().map(q -> RecipientWords.time(q.to())).orElse(""),
        r.wrongVerdictAtOnce(),
        r.zone().getId(),
        chosen(readings.units(), r.units().map(UnitChoice::code)),
        chosen(readings.locales(), r.locale()));
  }

  // What the configuration says stands first: to choose nothing is a choice.
  private static List<Box> chosen(List<ReadingChoice.Option> all, Optional<String> code) {
    List<Box> boxes = new ArrayList<>();
    boxes.add(new Box("", "as configured", code.isEmpty()));
    for (ReadingChoice.Option o : all)
      boxes.add(new Box(o.code(), o.words(), code.filter(o.code()::equals).isPresent()));
    return boxes;
  }
}
