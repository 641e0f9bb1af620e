/**
 * What is tested: a model, its units, the rule by which its display shows a distance, its firmware
 * releases in order of date, and how it is carried. Never orders releases by the text of their
 * version.
 */
@NullMarked
package milewarden.device;

import org.jspecify.annotations.NullMarked;
