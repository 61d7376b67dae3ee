/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * Method. The cut text is never changed and shared by a look and its questions. What a person mends lies over it, cell by
 * cell. A row of the look is a number of a row of the text: so that rows can be left behind when they are stored. To be
 * judged, each cell is put into the words of files (exchange-look-cell.c) and handed to the import as a row in memory.
 */

#include "exchange-grid-private.h"
#include "exchange-look.h"

G_BEGIN_DECLS

typedef struct
{
  ExchangeGrid *grid;
} ExchangeLookText;

struct _ExchangeLook
{
  char             *name;
  ExchangeLookText *text; /* counted atomically */
  GArray           *rows; /* of guint: rows of the text, without the head */
  gboolean          has_head;
  const BookRecord *record;
  GArray           *fields;  /* of ExchangeLookField */
  GHashTable       *words;   /* tidied head to number of field, plus one */
  int              *columns; /* which field each gives, or -1 */
  guint             n_by_trade_word; /* of them found by what sheets call it */
  GPtrArray        *fixed;   /* of char*, by field */
  char              decimal_sign;
  gboolean          decimal_sign_is_set;
  ExchangeDateOrder order;
  gboolean          order_is_set;
  GHashTable       *edits; /* place in the text, plus one, to char* */
  GArray           *mends; /* of ExchangeLookMend, in order; NULL in a question */
  guint             n_mends; /* of them in force; those behind were taken back */
};

/* What a cell said before a person mended it, and after. */
typedef struct
{
  gpointer place; /* as in edits */
  char    *before;
  char    *after;
} ExchangeLookMend;

struct _ExchangeLookQuestion
{
  ExchangeLook *look;
  gint64        person;
  gint64        sitting;
  gboolean      store;
};

/* What differs, or what is wrong, in one field of one row. */
typedef struct
{
  guint row;
  int   field; /* of the look; -1: none of them */
  char *text;
} ExchangeLookNote;

struct _ExchangeLookAnswer
{
  guint   n_rows;
  guint8 *states; /* ExchangeLookState */
  guint   counts[EXCHANGE_LOOK_N_STATES];
  GArray *changes; /* of ExchangeLookNote, by row: what the book has */
  GArray *refusals; /* the same: what is wrong */
  gboolean stored;
};

static inline ExchangeLookField *
exchange_look_field (const ExchangeLook *self, guint field)
{
  return &g_array_index (self->fields, ExchangeLookField, field);
}

static inline guint
exchange_look_text_row (const ExchangeLook *self, guint row)
{
  return g_array_index (self->rows, guint, row);
}

/* The model or round that rows belong to: often not in the text, but known where it is pasted. */
static inline gboolean
exchange_look_is_place (const ExchangeLookField *field)
{
  return g_str_equal (field->name, "model") || g_str_equal (field->name, "round");
}

/* exchange-look-heads.c */
void     exchange_look_match    (ExchangeLook *self, const BookRecord *likely);
void     exchange_look_take_record (ExchangeLook *self, const BookRecord *record);
guint    exchange_look_count_matched (const ExchangeLook *self);
void     exchange_look_field_clear (gpointer field);

/* exchange-look-mend.c */
GArray  *exchange_look_mends_new (void) G_GNUC_WARN_UNUSED_RESULT;
void     exchange_look_forget_mends (ExchangeLook *self);

/* exchange-look-cell.c */
void exchange_look_recognise (ExchangeLook *self);
void exchange_look_translate (const BookField *leaf, const char *text, char decimal_sign, ExchangeDateOrder order,
                              GString *out);

G_END_DECLS
