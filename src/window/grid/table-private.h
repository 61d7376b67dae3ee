/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/*
 * The parts of FettleTable that its files share: the widget (table.c), typing into a cell (table-edit.c), keys and mouse
 * (table-keys.c), keys and blocks of a grid (table-grid.c, table-block.c), where cells lie and how they are drawn
 * (table-place.c, table-draw.c).
 */

#include "table.h"

G_BEGIN_DECLS

#define TABLE_CELL_SIDE 12

/*
 * While a row is current, @key is its key in the source, and @row is where it stood when the source last told: after a
 * reset the row is found again by the key, so that what is typed or done meets the row that was meant.
 */
struct _FettleTable
{
  GtkWidget parent_instance;

  GtkAdjustment      *hadjustment;
  GtkAdjustment      *vadjustment;
  GtkScrollablePolicy hpolicy;
  GtkScrollablePolicy vpolicy;

  FettleTableSource *source;
  GtkWidget         *text;    /* GtkEntry, shown while a cell is typed into */
  gboolean           editing;
  gboolean           filling; /* the text is being set: its signal is ours */
  char              *base;    /* what the cell held when typing began, or when somebody else's value was shown; NULL: not known */
  gboolean           meanwhile; /* somebody else's value is shown beside what is typed: only a key chooses */
  guint              row;
  guint              column;
  gint64             key;
  char              *placeholder; /* said where there are no rows */
  int                letter;      /* width of a figure, in pixels; 0: not measured yet */
  int                line;        /* height of a row, and of the heading */
  GArray            *titles;      /* of int: width of each column's heading; empty: not measured yet */
  GArray            *lefts;       /* of int: left edge of each column, unscrolled, and the end of the last; empty: not placed */
  int                placed_for;  /* the width for which @lefts is */
  gboolean           is_drawn;    /* @cells and @head are as it looks now: a cursor that blinks draws nothing else anew */
  GskRenderNode     *cells;       /* NULL: nothing to see */
  GskRenderNode     *head;        /* likewise */
  GHashTable        *laid_out;    /* words and width of a cell -> PangoLayout: most of what is drawn was drawn before */

  gboolean           grid;
  guint              n_frozen;      /* columns that stay at the left */
  gboolean           rightward;     /* Enter goes right */
  gboolean           over;          /* typing began by writing over the cell: arrows leave it */
  guint              anchor_row;    /* the other corner of what is selected */
  guint              anchor_column;
  GtkWidget         *watched;       /* the window whose keyboard is watched, while there is one */
  gboolean           within;        /* the keyboard is in the table */
};

/* table.c */
void     fettle_table_go_to         (FettleTable  *self,
                                     guint         row,
                                     guint         column);
void     fettle_table_tell_position (FettleTable  *self);
void     fettle_table_tell_refused  (FettleTable  *self,
                                     const char   *sentence);

/* table-edit.c */
void     fettle_table_set_up_text   (FettleTable  *self);
gboolean fettle_table_begin         (FettleTable  *self,
                                     const char   *typed);
gboolean fettle_table_begin_in_row  (FettleTable  *self,
                                     const char   *typed);
gboolean fettle_table_take          (FettleTable  *self);
void     fettle_table_stop          (FettleTable  *self);
void     fettle_table_take_back     (FettleTable  *self);
void     fettle_table_look_again    (FettleTable  *self);
gboolean fettle_table_take_back_kept (FettleTable *self);

/* table-keys.c */
void     fettle_table_set_up_keys   (FettleTable  *self);

gboolean fettle_table_begin_with_letter (FettleTable *self,
                                         guint        key,
                                         GdkModifierType state);
guint    fettle_table_page_rows     (FettleTable  *self);

/* table-grid.c */
void     fettle_table_grid_go       (FettleTable  *self,
                                     guint         row,
                                     guint         column,
                                     gboolean      extend);
gboolean fettle_table_grid_key      (FettleTable  *self,
                                     guint         key,
                                     GdkModifierType state);

/* table-block.c */
void     fettle_table_copy_block    (FettleTable  *self);
void     fettle_table_paste         (FettleTable  *self);
void     fettle_table_clear_block   (FettleTable  *self);
void     fettle_table_fill_down     (FettleTable  *self);
gboolean fettle_table_fill_with     (FettleTable  *self,
                                     const char   *text);
gboolean fettle_table_is_selected   (FettleTable  *self,
                                     guint         row,
                                     guint         column);

/* table-place.c */
guint    fettle_table_n_rows        (FettleTable  *self);
double   fettle_table_scrolled      (FettleTable  *self);
int      fettle_table_line          (FettleTable  *self);
int      fettle_table_head          (FettleTable  *self);
int      fettle_table_letter        (FettleTable  *self);
void     fettle_table_set_head_font (PangoLayout  *layout);
int      fettle_table_frozen_width  (FettleTable  *self);
void     fettle_table_forget_widths (FettleTable  *self);
gboolean fettle_table_column_shown  (FettleTable  *self,
                                     guint         column);
int      fettle_table_content_width (FettleTable  *self);
void     fettle_table_place_column  (FettleTable  *self,
                                     guint         column,
                                     int          *left,
                                     int          *width);
void     fettle_table_place_cell    (FettleTable  *self,
                                     guint         row,
                                     guint         column,
                                     GdkRectangle *place);
gboolean fettle_table_row_in_view   (FettleTable  *self);
void     fettle_table_bring_row_into_view (FettleTable  *self);
void     fettle_table_bring_into_view (FettleTable  *self);

/* table-draw.c */
void     fettle_table_set_up_drawing (FettleTable *self);
void     fettle_table_forget_drawing (FettleTable *self);
void     fettle_table_queue_draw    (FettleTable  *self);
void     fettle_table_redraw        (FettleTable  *self);
void     fettle_table_draw          (FettleTable  *self,
                                     GtkSnapshot  *snapshot);

G_END_DECLS
