/* SPDX-License-Identifier: MIT */
/* How the page looks. */
#ifndef RUNGWISE_PAGE_STYLE_H
#define RUNGWISE_PAGE_STYLE_H

/* The style sheet, without "<", "&" or anything that is loaded from elsewhere. Static. */
const char *page_style (void);

#endif
