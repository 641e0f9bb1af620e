package milewarden.recipient;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;

/**
 * Who is told by the configuration, beside those who chose for themselves.
 *
 * @param always addresses that are told of everything at once
 * @param zone of their days
 * @param hook true where programs are told, too
 */
public record Audience(List<String> always, ZoneId zone, boolean hook) {
  public Audience {
    always = List.copyOf(always);
  }

  /** Nobody by the configuration. */
  public static Audience nobody(ZoneId zone) {
    return new Audience(List.of(), zone, false);
  }

  /** Everybody; a choice of one's own goes before the configuration. */
  public List<Recipient> with(List<Recipient> chosen) {
    List<Recipient> all = new ArrayList<>(chosen);
    for (String address : always)
      if (chosen.stream().noneMatch(r -> r.is(address)))
        all.add(Recipient.ofEverything(address, zone));
    return all;
  }
}
