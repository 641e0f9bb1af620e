package milewarden.simulator.campaign;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import milewarden.device.Reading;
import milewarden.simulator.Walk;

/** Fills in the field sheet of an outing as a tester would; no cell holds a comma. */
final class FieldSheet {
  private static final String HEADER =
      "session,date,time,file,pass,slot,unit,model,firmware,course,carriage,gait,direction,laps,"
          + "shown,shown_unit,shown_step,rounding,bounds,interval,band,start_protocol,standing_s,"
          + "control,operator";
  private static final DateTimeFormatter DATE =
      DateTimeFormatter.ISO_LOCAL_DATE.withZone(ZoneOffset.UTC);
  private static final DateTimeFormatter TIME =
      DateTimeFormatter.ofPattern("HH:mm:ss", Locale.ROOT).withZone(ZoneOffset.UTC);

  private FieldSheet() {}

  static String of(String session, List<Outing.Recording> recordings) {
    StringBuilder text = new StringBuilder(HEADER).append('\n');
    for (Outing.Recording r : recordings)
      text.append(String.join(",", cells(session, r))).append('\n');
    return text.toString();
  }

  private static List<String> cells(String session, Outing.Recording r) {
    Walk walk = r.walk();
    InventedUnit unit = r.carried().unit();
    List<String> cells = new ArrayList<>();
    cells.add(session);
    cells.add(DATE.format(walk.startedAt()));
    cells.add(TIME.format(walk.startedAt()));
    cells.add(r.file());
    cells.add(Integer.toString(r.pass()));
    cells.add(unit.slot());
    cells.add(unit.name());
    cells.add(unit.model());
    cells.add(r.carried().release().version());
    cells.add(walk.course().slug().text());
    cells.add(walk.carriage().code());
    cells.add(walk.gait().code());
    cells.add(walk.direction().code());
    cells.add(Integer.toString(walk.laps()));
    cells.addAll(shown(r));
    cells.add(walk.bounds().code());
    cells.add("1");
    cells.add("one band");
    cells.add("fix and 3 min");
    cells.add(Long.toString(Math.round(walk.standingS())));
    cells.add(unit.control() ? "yes" : "no");
    cells.add("Ilva Brandrose");
    return cells;
  }

  private static List<String> shown(Outing.Recording r) {
    if (r.carried().unit().display().isEmpty() || r.made().recordedM().isEmpty())
      return List.of("", "", "", "");
    Display display = r.carried().unit().display().get();
    Reading reading = display.show(r.made().recordedM().getAsDouble());
    BigDecimal step = BigDecimal.valueOf(reading.step());
    BigDecimal value =
        BigDecimal.valueOf(reading.value()).setScale(step.scale(), RoundingMode.HALF_EVEN);
    return List.of(
        value.toPlainString(),
        reading.unit().symbol(),
        step.toPlainString(),
        reading.rounding().code());
  }
}
