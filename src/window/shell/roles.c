/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "roles.h"

/**
 * fettle_role_pages:
 * @role: of a person; 0: nobody by name
 *
 * Names of pages that need not be there; the others follow them, each with the key that it always has.
 *
 * Returns: (array zero-terminated=1): the pages that the role begins with
 */
const char *const *
fettle_role_pages (BookRole role)
{
  static const char *const none[] = { NULL };
  static const char *const lead[] = { "standing", "rounds", "issues", "leadtime", "changes", NULL };
  static const char *const designer[] = { "changes", "compare", "readings", "issues", NULL };
  static const char *const owner[] = { "standing", "shelf", "release", "leadtime", NULL };
  static const char *const bench[] = { "bench", "readings", "tally", "issues", NULL };

  switch (role)
    {
    case BOOK_ROLE_LEAD:
      return lead;
    case BOOK_ROLE_DESIGNER:
      return designer;
    case BOOK_ROLE_OWNER:
      return owner;
    case BOOK_ROLE_MAKER:
    case BOOK_ROLE_INSPECTOR:
      return bench;
    default:
      return none;
    }
}

/**
 * fettle_role_reviews:
 * @role: of a person; 0: nobody by name
 *
 * Returns: whether who has it reads, and writes only after saying so
 */
gboolean
fettle_role_reviews (BookRole role)
{
  return role == BOOK_ROLE_DESIGNER || role == BOOK_ROLE_OWNER;
}
