package milewarden.web.desk;

import milewarden.recipient.Audience;

/**
 * What the pages about mail work with.
 *
 * @param audience who is told by the configuration
 * @param leaves how messages leave, in a sentence
 * @param wake called after a message was queued and committed
 */
public record MailDesk(Audience audience, String leaves, Runnable wake) {}
