/* SPDX-License-Identifier: MIT */
/* Markup: text on its way into SVG or HTML, so that nothing in somebody's book can become an element, an attribute or a
 * character that XML 1.0 does not allow. */
#ifndef RUNGWISE_MARKUP_H
#define RUNGWISE_MARKUP_H

#include <glib.h>

/* What a character becomes: itself, or '?' for controls, for those that XML 1.0 ("Char") forbids, and for those that turn
 * the direction of the text around them (Unicode Standard Annex 9, "Explicit Directional Formatting Characters"). */
gunichar markup_clean (gunichar character);

/* Adds the character, cleaned and escaped; for text and for values of attributes in double quotes. */
void markup_put_character (GString *out, gunichar character);
void markup_put (GString *out, const char *text);

#endif
