package milewarden.recipient;

import java.time.LocalTime;
import java.time.ZoneId;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import milewarden.units.UnitChoice;
import milewarden.verdict.DueItem;

/**
 * Somebody who is told by mail, with their own choice.
 *
 * @param address one mailbox: {@code name@host}
 * @param models names of the models to be told of; empty: of all
 * @param severities to be told of; at least one
 * @param digestAt local time of the daily digest
 * @param quiet hours in which a message waits
 * @param wrongVerdictAtOnce true where a verdict that is wrong in public waits neither for the
 *     digest nor for the end of the quiet hours
 * @param zone of the digest's time
 * @param units in which lengths are written to them; empty: as configured
 * @param locale by which numbers and dates are written to them, a language tag; empty: as
 *     configured
 */
public record Recipient(
    String address,
    Set<String> models,
    Set<DueItem.Severity> severities,
    Delivery delivery,
    LocalTime digestAt,
    Optional<QuietHours> quiet,
    boolean wrongVerdictAtOnce,
    ZoneId zone,
    Optional<UnitChoice> units,
    Optional<String> locale) {
  /** When nobody chose: before most working days begin; common practice, no source. */
  public static final LocalTime USUAL_DIGEST = LocalTime.of(7, 0);

  public Recipient {
    if (!isAddress(address)) throw new IllegalArgumentException("no mail address: " + address);
    if (severities.isEmpty()) throw new IllegalArgumentException("told of nothing: " + address);
    models = Set.copyOf(models);
    severities = Set.copyOf(severities);
  }

  /** Written to as configured. */
  public Recipient(
      String address,
      Set<String> models,
      Set<DueItem.Severity> severities,
      Delivery delivery,
      LocalTime digestAt,
      Optional<QuietHours> quiet,
      boolean wrongVerdictAtOnce,
      ZoneId zone) {
    this(
        address,
        models,
        severities,
        delivery,
        digestAt,
        quiet,
        wrongVerdictAtOnce,
        zone,
        Optional.empty(),
        Optional.empty());
  }

  /** With messages in these units and numerals. */
  public Recipient reading(Optional<UnitChoice> in, Optional<String> by) {
    return new Recipient(
        address, models, severities, delivery, digestAt, quiet, wrongVerdictAtOnce, zone, in, by);
  }

  /** At once, or gathered once a day. */
  public enum Delivery {
    IMMEDIATE,
    DAILY_DIGEST
  }

  /** Told of everything at once. */
  public static Recipient ofEverything(String address, ZoneId zone) {
    return new Recipient(
        address,
        Set.of(),
        EnumSet.allOf(DueItem.Severity.class),
        Delivery.IMMEDIATE,
        USUAL_DIGEST,
        Optional.empty(),
        true,
        zone);
  }

  /**
   * True for one mailbox that may stand in a header as it is: no list, no comment, no quoting, no
   * control character (RFC 5322, addr-spec, its plain part), no sign outside ASCII.
   */
  public static boolean isAddress(String text) {
    return text.length() <= LONGEST_ADDRESS
        && text.matches("[\\x21-\\x7E&&[^@<>,;:\"()\\[\\]\\\\]]+@[A-Za-z0-9][A-Za-z0-9.-]*");
  }

  // RFC 5321, section 4.5.3.1.3: a path of 256 octets with its angle brackets.
  private static final int LONGEST_ADDRESS = 254;

  /** True where this is something to be told of. */
  public boolean wants(DueItem item) {
    return severities.contains(item.severity())
        && (models.isEmpty() || models.stream().anyMatch(m -> m.equalsIgnoreCase(item.model())));
  }

  /** True where this goes into a message of its own now rather than into the digest. */
  public boolean atOnce(DueItem item) {
    return delivery == Delivery.IMMEDIATE || presses(item);
  }

  /** The hours that a message on these waits for; empty where it may go at any time. */
  public Optional<QuietHours> quietFor(List<DueItem> items) {
    return items.stream().anyMatch(this::presses) ? Optional.empty() : quiet;
  }

  private boolean presses(DueItem item) {
    return wrongVerdictAtOnce && item.severity() == DueItem.Severity.VERDICT_WRONG;
  }

  public DailyTime digest() {
    return new DailyTime(digestAt, zone);
  }

  /** True for the same mailbox, however it is written. */
  public boolean is(String other) {
    return address.toLowerCase(Locale.ROOT).equals(other.toLowerCase(Locale.ROOT));
  }

  /** In order of the alphabet, for people. */
  public List<String> modelsInOrder() {
    return List.copyOf(new TreeSet<>(models));
  }
}
