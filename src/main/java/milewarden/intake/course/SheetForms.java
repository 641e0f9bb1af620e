package milewarden.intake.course;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import milewarden.course.FieldSheetItems;
import milewarden.course.ReferenceCourse;
import milewarden.format.measured.FieldSheetFile;
import milewarden.format.measured.SheetLine;
import milewarden.report.MeasuredWords;
import milewarden.report.page.course.MeasureForm;

/** A field sheet between the form of a page, its CSV file and a course file. */
public final class SheetForms {
  /** Fields of the form that are no readings. */
  private static final List<String> NO_ITEMS = List.of("author", "reason");

  private SheetForms() {}

  /** A form, or why the file is none. */
  public record Read(MeasureForm form, List<String> problems) {
    public Read {
      problems = List.copyOf(problems);
    }
  }

  /** What a CSV file says, also where some of it is wrong. */
  public static Read csv(byte[] bytes) {
    FieldSheetFile.CsvLines csv = FieldSheetFile.csv(bytes);
    List<String> problems = csv.issues().stream().map(i -> MeasuredWords.of(i).sentence()).toList();
    // The form's numbers have points: a spreadsheet's commas become some where they are decimals.
    List<SheetLine> lines =
        csv.decimalComma()
            ? csv.lines().stream().map(SheetForms::withPoints).toList()
            : csv.lines();
    return new Read(form(lines), problems);
  }

  private static SheetLine withPoints(SheetLine l) {
    return new SheetLine(
        l.item(),
        point(l.value()),
        point(l.start()),
        point(l.end()),
        point(l.turns()),
        point(l.temperature()),
        l.note(),
        l.place());
  }

  private static String point(String text) {
    return text.matches("[+-]?\\d+,\\d+") ? text.replace(',', '.') : text;
  }

  /** The sheet as CSV. */
  public static String csv(MeasureForm form) {
    return FieldSheetFile.csv(lines(form));
  }

  /** A blank sheet as CSV; empty text for no method. */
  public static String blank(String method) {
    return FieldSheetFile.blank(method).orElse("");
  }

  /** The sheet that lies in a course file; an empty one where there is none. */
  public static MeasureForm of(ReferenceCourse course) {
    return form(course.fieldSheet().map(FieldSheetFile::lines).orElse(List.of()));
  }

  private static MeasureForm form(List<SheetLine> lines) {
    Map<String, String> values = new LinkedHashMap<>();
    Map<String, List<MeasureForm.Ride>> rides = new HashMap<>();
    for (SheetLine l : lines) {
      if (FieldSheetItems.REPEATED.contains(l.item()))
        rides
            .computeIfAbsent(l.item(), k -> new ArrayList<>())
            .add(
                new MeasureForm.Ride(
                    l.value(), l.start(), l.end(), l.turns(), l.temperature(), l.note()));
      else values.put(l.item(), l.value());
    }
    return new MeasureForm(values, rides);
  }

  /** The form's lines; the place of each is its field as it stands on the page. */
  static List<SheetLine> lines(MeasureForm form) {
    List<SheetLine> lines = new ArrayList<>();
    form.values().entrySet().stream()
        .filter(e -> !e.getValue().isBlank() && !NO_ITEMS.contains(e.getKey()))
        .sorted(Map.Entry.comparingByKey())
        .sorted((a, b) -> Boolean.compare(b.getKey().equals("method"), a.getKey().equals("method")))
        .forEach(e -> lines.add(SheetLine.item(e.getKey(), e.getValue(), "")));
    for (String item : FieldSheetItems.REPEATED) {
      int number = 0;
      for (MeasureForm.Ride r : form.rides().getOrDefault(item, List.of())) {
        number++;
        if (r.isBlank()) continue;
        lines.add(
            new SheetLine(
                item,
                r.value(),
                r.start(),
                r.end(),
                r.turns(),
                r.temperature(),
                r.note(),
                place(item) + " " + number));
      }
    }
    return lines;
  }

  private static String place(String item) {
    return switch (item) {
      case "before" -> "ride before";
      case "after" -> "ride after";
      case "pass" -> "pass";
      default -> "other contribution";
    };
  }
}
