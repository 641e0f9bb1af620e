package milewarden.app.config;

import java.net.URI;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.Locale;
import java.util.Optional;
import milewarden.alert.HookSettings;
import milewarden.alert.MailSettings;
import milewarden.intake.InboxSettings;
import milewarden.store.StoreSettings;
import milewarden.store.keep.Backups;
import milewarden.units.LengthUnit;
import milewarden.verdict.Policy;
import milewarden.web.door.DoorSettings;

/**
 * The program's settings, each in the record of the package that uses it.
 *
 * @param data the folder in which everything lies that must survive
 * @param courses the folder of the reference courses
 * @param address of the dashboard; where others can reach it, everybody needs a passphrase
 * @param port of the dashboard; 0 takes a free one
 * @param zone of local dates
 * @param units the unit of long distances on pages: kilometres or miles
 * @param locale whose numerals and dates stand beside the English words
 * @param policy the rules of judging
 * @param publicVerdicts true where anybody may read the reports of published verdicts
 * @param backups the daily copies of the store; empty: none
 * @param hook where programs are told; empty: nowhere
 * @param publicUrl the dashboard's address for links in mail; its own on this machine where empty
 */
public record Config(
    Path data,
    Path courses,
    String address,
    int port,
    DoorSettings door,
    ZoneId zone,
    LengthUnit units,
    Locale locale,
    Optional<URI> publicUrl,
    boolean publicVerdicts,
    StoreSettings store,
    InboxSettings inbox,
    MailSettings mail,
    Optional<HookSettings> hook,
    Optional<Backups.Settings> backups,
    Policy policy) {}
