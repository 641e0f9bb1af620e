package milewarden.web.page;

import io.javalin.config.JavalinConfig;
import io.javalin.http.BadRequestResponse;
import io.javalin.http.Context;
import io.javalin.http.UploadedFile;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import milewarden.intake.TagForm;
import milewarden.report.page.IntakePage;
import milewarden.store.Id.FileId;
import milewarden.store.file.Standings.Standing;
import milewarden.track.TagName;
import milewarden.web.Frame;
import milewarden.web.Routes;
import milewarden.web.desk.Desk;
import milewarden.web.desk.Sent;

/** Files that arrive, and what they still lack. */
final class IntakeRoutes implements Routes {
  private final Desk desk;
  private final IntakeView view;

  IntakeRoutes(Desk desk) {
    this.desk = desk;
    this.view = new IntakeView(desk);
  }

  @Override
  public void add(JavalinConfig config) {
    config.routes.get("/intake", this::intake);
    config.routes.post("/intake/files", this::upload);
    config.routes.post("/intake/tags", this::tags);
    config.routes.post("/intake/adopt", this::adopt);
  }

  private void intake(Context http) {
    show(http, Sent.text(http, "done"), List.of());
  }

  private void show(Context http, String done, List<String> problems) {
    Choice<Standing> state = Choice.of(http, "state", Standing.class);
    IntakePage page = desk.database().read(tx -> view.page(tx, state, said(done), problems));
    desk.renderer().show(http, "intake", Frame.of("Intake", "/intake"), page);
  }

  /** A closed list: nobody's link puts words on this page. */
  private static String said(String done) {
    return switch (done) {
      case "files" -> "The files are in; they are measured now.";
      case "tags" -> "The tags are kept; the files are measured now.";
      case "adopted" -> "The tags of the copy are taken over.";
      default -> "";
    };
  }

  private void upload(Context http) {
    List<UploadedFile> files = http.uploadedFiles("file");
    if (files.isEmpty()) throw new BadRequestResponse("No file came with the form. Choose one.");
    Map<TagName, String> tags = sentTags(http);
    for (UploadedFile file : files) desk.upload().take(file.filename(), file::content, tags);
    http.redirect("/intake?done=files");
  }

  private void tags(Context http) {
    List<FileId> files = new ArrayList<>();
    for (String id : http.formParams("file")) Sent.parse(id).map(FileId::new).ifPresent(files::add);
    if (files.isEmpty())
      throw new BadRequestResponse("No file is ticked. Tick those that you mean.");
    Map<TagName, String> tags = sentTags(http);
    if (tags.isEmpty()) throw new BadRequestResponse("No tag is filled in. Fill in at least one.");
    List<TagForm.Problem> problems = desk.tags().apply(files, tags);
    if (problems.isEmpty()) http.redirect("/intake?done=tags");
    else show(http, "", problems.stream().map(TagForm.Problem::sentence).toList());
  }

  private void adopt(Context http) {
    desk.tags().adopt(new FileId(Sent.number(http, "file")));
    http.redirect("/intake?done=adopted");
  }

  /** What was filled in; an empty field says nothing. */
  private static Map<TagName, String> sentTags(Context http) {
    Map<TagName, String> tags = new EnumMap<>(TagName.class);
    for (TagName name : TagName.values()) {
      // Each doubtful column has a field of its own, all of one name.
      String said =
          name == TagName.COLUMNS
              ? http.formParams(name.code()).stream()
                  .filter(each -> !each.isBlank())
                  .collect(Collectors.joining("; "))
              : Sent.text(http, name.code());
      if (!said.isEmpty()) tags.put(name, said);
    }
    return tags;
  }
}
