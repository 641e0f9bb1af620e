package milewarden.app.config;

import java.net.URI;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.regex.Pattern;
import milewarden.alert.Certificates;
import milewarden.alert.HookSettings;
import milewarden.alert.MailSettings;
import milewarden.cli.Places;
import milewarden.device.Carriage;
import milewarden.device.Gait;
import milewarden.intake.InboxSettings;
import milewarden.recipient.DailyTime;
import milewarden.recipient.Recipient;
import milewarden.store.StoreSettings;
import milewarden.store.keep.Backups;
import milewarden.store.keep.StoreCopy;
import milewarden.track.TagName;
import milewarden.units.LengthUnit;
import milewarden.verdict.Policy;
import milewarden.web.WebSettings;
import milewarden.web.door.DoorSettings;

/** Reads {@code milewarden.yaml}; every key has a default. */
public final class ConfigReader {
  static final Path USUAL_FILE = Path.of("config", "milewarden.yaml");
  private static final int PORT = 8080;
  private static final Pattern ADDRESS =
      Pattern.compile("localhost|(\\d{1,3}\\.){3}\\d{1,3}|[0-9A-Fa-f:]*:[0-9A-Fa-f:]*");
  private static final int HIGHEST_PORT = 65535;
  // The submission port of mail: RFC 6409.
  private static final int SUBMISSION_PORT = 587;
  // RFC 2104, section 3: a key shorter than the hash's 32 octets weakens it; 32 letters of a
  // random text are common practice.
  private static final int SHORTEST_SECRET = 32;

  private final Keys keys;
  private final Path file;
  private final Path base;
  private final List<String> policyProblems = new ArrayList<>();
  private final Function<String, Optional<String>> environment;

  private ConfigReader(Keys keys, Path file, Function<String, Optional<String>> environment) {
    Path parent = file.toAbsolutePath().getParent();
    this.keys = keys;
    this.file = file;
    this.base = parent == null ? Path.of("") : parent;
    this.environment = environment;
  }

  /** The settings that hold at these places, by the environment that secrets are named in. */
  public static ConfigRead read(Places places, Function<String, Optional<String>> environment) {
    Path file = file(places);
    boolean there = places.config().isPresent() || Files.exists(file);
    YamlFile yaml = there ? YamlFile.read(file) : YamlFile.empty(file.toString());
    return read(yaml, file, places, environment);
  }

  /** Where the configuration lies, whether it is there or not. */
  public static Path file(Places places) {
    return places.config().orElse(USUAL_FILE);
  }

  public static ConfigRead read(
      YamlFile yaml, Path file, Places places, Function<String, Optional<String>> environment) {
    Keys keys = new Keys(yaml);
    ConfigReader reader = new ConfigReader(keys, file, environment);
    Config config = reader.config(places);
    List<String> why =
        new ArrayList<>(keys.problems().stream().map(YamlFile.Problem::toString).toList());
    why.addAll(reader.policyProblems);
    return why.isEmpty() ? new ConfigRead.Usable(config) : new ConfigRead.Refused(why);
  }

  /** Every key that there is. */
  static Set<String> keys(Places places) {
    Keys keys = new Keys(YamlFile.empty(""));
    new ConfigReader(keys, Path.of(""), name -> Optional.empty()).config(places);
    return keys.asked();
  }

  private Config config(Places places) {
    ZoneId zone = zone();
    Path usual =
        keys.text("courses.folder").map(base::resolve).orElse(places.data().resolve("courses"));
    Path courses = places.courses().orElse(usual);
    return new Config(
        places.data(),
        courses,
        address(),
        places.port().orElse(keys.number("port", PORT, 0, HIGHEST_PORT)),
        door(),
        zone,
        keys.value("units", LengthUnit.KILOMETRE, "`kilometres` or `miles`", this::units),
        keys.value("locale", Locale.UK, "a language tag such as en-GB or de-DE", this::locale),
        Optional.ofNullable(
                keys.<Optional<URI>>value(
                    "public.url",
                    Optional.empty(),
                    "an address such as https://tests.example/",
                    this::url))
            .flatMap(u -> u),
        keys.value("public.verdicts", false, "`true` or `false`", ConfigReader::flag),
        store(places.data()),
        inbox(),
        mail(),
        hook(),
        backups(zone, courses),
        policy());
  }

  // An address and no name: what a name stands for may change, and with it who gets in.
  private String address() {
    return keys.value(
        "address",
        WebSettings.LOOPBACK,
        "an address of this machine: 127.0.0.1, 0.0.0.0 for all, or one such as 192.0.2.7",
        text -> Optional.of(text).filter(t -> ADDRESS.matcher(t).matches()));
  }

  private DoorSettings door() {
    DoorSettings usual = DoorSettings.DEFAULTS;
    return new DoorSettings(
        keys.span("people.longest_visit", usual.longest()),
        keys.span("people.idle_visit", usual.idle()));
  }

  // The rules of judging lie in a file of their own beside this one.
  private Policy policy() {
    Optional<String> named = keys.text("policy.file");
    Path file = base.resolve(named.orElse("policy.yaml"));
    boolean there = named.isPresent() || Files.exists(file);
    YamlFile yaml = there ? YamlFile.read(file) : YamlFile.empty(file.toString());
    return PolicyReader.read(yaml, policyProblems);
  }

  private static Optional<Boolean> flag(String text) {
    return switch (text) {
      case "true" -> Optional.of(true);
      case "false" -> Optional.of(false);
      default -> Optional.empty();
    };
  }

  private ZoneId zone() {
    return keys.value(
        "zone", ZoneId.systemDefault(), "`system` or a zone such as Europe/Vienna", this::zone);
  }

  private Optional<ZoneId> zone(String text) {
    if (text.equals("system")) return Optional.of(ZoneId.systemDefault());
    return Keys.parse(text, ZoneId::of);
  }

  private Optional<LengthUnit> units(String text) {
    return LengthUnit.of(text).filter(u -> u == LengthUnit.KILOMETRE || u == LengthUnit.MILE);
  }

  private Optional<Locale> locale(String text) {
    Locale locale = Locale.forLanguageTag(text);
    boolean known =
        Arrays.asList(Locale.getAvailableLocales()).contains(locale)
            && !locale.toString().isEmpty();
    return known ? Optional.of(locale) : Optional.empty();
  }

  private Optional<Optional<URI>> url(String text) {
    return Keys.parse(text, URI::create)
        .filter(u -> "http".equals(u.getScheme()) || "https".equals(u.getScheme()))
        .map(Optional::of);
  }

  private StoreSettings store(Path data) {
    Optional<String> url = keys.text("store.url");
    String user = keys.text("store.user", "milewarden");
    Optional<String> password = secret("store", "MILEWARDEN_STORE_PASSWORD", url.isPresent());
    if (url.isEmpty()) return StoreSettings.in(data);
    if (!url.get().startsWith("jdbc:postgresql:"))
      keys.refuse(
          "store.url",
          "is `"
              + url.get()
              + "`; write jdbc:postgresql://host/name, or leave it empty for a file");
    return new StoreSettings(data, url, Optional.of(user), password);
  }

  private InboxSettings inbox() {
    InboxSettings usual = InboxSettings.DEFAULTS;
    Duration poll = keys.span("inbox.poll", usual.poll());
    Duration still = keys.span("inbox.stand_still", usual.standStill());
    Duration gap = keys.span("sessions.gap", usual.sessionGap());
    Map<TagName, String> defaults = new EnumMap<>(TagName.class);
    keys.text("defaults.unit").ifPresent(t -> defaults.put(TagName.UNIT, t));
    keys.text("defaults.firmware").ifPresent(t -> defaults.put(TagName.FIRMWARE, t));
    keys.text("defaults.operator").ifPresent(t -> defaults.put(TagName.OPERATOR, t));
    code("defaults.carriage", TagName.CARRIAGE, codes(Carriage.values(), Carriage::code), defaults);
    code("defaults.gait", TagName.GAIT, codes(Gait.values(), Gait::code), defaults);
    return new InboxSettings(poll, still, gap, defaults);
  }

  private static <E> List<String> codes(E[] values, Function<E, String> code) {
    List<String> codes = new ArrayList<>();
    for (E value : values) codes.add(code.apply(value));
    return codes;
  }

  private void code(String key, TagName tag, List<String> allowed, Map<TagName, String> into) {
    Optional<String> none = Optional.empty();
    Optional<String> value =
        keys.value(
            key,
            none,
            "one of " + String.join(", ", allowed),
            t ->
                Optional.of(t.toLowerCase(Locale.ROOT))
                    .filter(allowed::contains)
                    .map(Optional::of));
    value.ifPresent(v -> into.put(tag, v));
  }

  private MailSettings mail() {
    Optional<String> host = keys.text("mail.host");
    int port = keys.number("mail.port", SUBMISSION_PORT, 1, HIGHEST_PORT);
    MailSettings.Security security =
        keys.value(
            "mail.security",
            MailSettings.Security.STARTTLS,
            "`starttls`, `tls` or `none`",
            t -> Keys.parse(t.toUpperCase(Locale.ROOT), MailSettings.Security::valueOf));
    Optional<String> user = keys.text("mail.user");
    Optional<String> password =
        secret("mail", "MILEWARDEN_MAIL_PASSWORD", host.isPresent() && user.isPresent());
    Duration timeout = keys.span("mail.timeout", Duration.ofSeconds(20));
    Optional<Path> trusted = keys.text("mail.certificate_file").map(base::resolve);
    trusted
        .filter(f -> !Certificates.canBeRead(f))
        .ifPresent(
            f ->
                keys.refuse(
                    "mail.certificate_file",
                    "names " + f + ", which holds no certificate; write the path of a PEM file"));
    String from = address("mail.from", keys.text("mail.from", "milewarden@localhost"));
    List<String> to = keys.texts("mail.to", List.of());
    to.forEach(t -> address("mail.to", t));
    Duration first = keys.span("mail.first_retry", Duration.ofMinutes(1));
    Duration longest = keys.span("mail.longest_retry", Duration.ofHours(1));
    Optional<MailSettings.Login> login =
        user.map(u -> new MailSettings.Login(u, password.orElse("")));
    Optional<MailSettings.Server> server =
        host.map(h -> new MailSettings.Server(h, port, security, login, timeout, trusted));
    return new MailSettings(server, from, to, first, longest);
  }

  /** Where programs are told: an address and the secret that signs what is posted there. */
  private Optional<HookSettings> hook() {
    Optional<String> text = keys.text("webhook.url");
    Duration timeout = keys.span("webhook.timeout", Duration.ofSeconds(20));
    String variable = keys.text("webhook.secret_env", "MILEWARDEN_WEBHOOK_SECRET");
    Optional<String> file = keys.text("webhook.secret_file");
    Optional<String> secret = secret(variable, file);
    if (text.isEmpty()) return Optional.empty();
    Optional<URI> url = url(text.get()).flatMap(u -> u).filter(u -> u.getHost() != null);
    if (url.isEmpty())
      keys.refuse(
          "webhook.url",
          "is `" + text.get() + "`; write an address such as https://chat.example/hooks/alerts");
    if (secret.filter(s -> s.length() >= SHORTEST_SECRET).isEmpty())
      keys.refuse(
          file.isPresent() ? "webhook.secret_file" : "webhook.url",
          "needs a secret of "
              + SHORTEST_SECRET
              + " characters or more: set the environment variable "
              + variable
              + " or name a readable file in `webhook.secret_file`");
    return secret.flatMap(s -> url.map(u -> new HookSettings(u, s, timeout)));
  }

  private Optional<Backups.Settings> backups(ZoneId zone, Path courses) {
    Optional<Path> folder = keys.text("backup.folder").map(base::resolve);
    LocalTime at =
        keys.value(
            "backup.at",
            LocalTime.of(3, 0),
            "a local time such as 03:00",
            t -> Keys.parse(t, LocalTime::parse));
    int keep = keys.number("backup.keep", 14, 1, 10_000);
    StoreCopy.Beside beside = new StoreCopy.Beside(courses, Optional.of(file));
    return folder.map(f -> new Backups.Settings(f, new DailyTime(at, zone), keep, beside));
  }

  // One mailbox, no line break, no list: what a header may hold without more ado.
  private String address(String key, String text) {
    if (!Recipient.isAddress(text))
      keys.refuse(key, "holds `" + text.strip() + "`; write a plain address: name@your.domain");
    return text;
  }

  private Optional<String> secret(String variable, Optional<String> file) {
    Optional<String> secret = environment.apply(variable).filter(s -> !s.isEmpty());
    if (secret.isPresent() || file.isEmpty()) return secret;
    return Keys.parse(file.get(), f -> Secrets.read(base.resolve(f)));
  }

  /** A password from the environment or a file: never from the configuration itself. */
  private Optional<String> secret(String part, String usualVariable, boolean needed) {
    String variable = keys.text(part + ".password_env", usualVariable);
    Optional<String> file = keys.text(part + ".password_file");
    Optional<String> secret = secret(variable, file);
    if (needed && secret.isEmpty())
      keys.refuse(
          file.isPresent() ? part + ".password_file" : part + ".user",
          "needs a password: set the environment variable "
              + variable
              + " or name a readable file in `"
              + part
              + ".password_file`");
    return secret;
  }
}
