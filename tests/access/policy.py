"""The access policy, to be read by people: every address, both methods, every role.

200, 302, 422: the page, a redirect (for a visitor: to the door), a form with something to mend.
404, not 403, where a 403 would tell that something is there. 405: the address has no such method.
All addresses are about Aisha, her class, and what her first home (role "family") sent.
"""

#                                 visitor     other fam.  assistant   lead    foreign
#                                     family      teacher     other t.    office  lead
#                                         second home
TABLE = """
home                         GET  302 302 302 302 302 302 302 302 302 302
home                         POST 302 405 405 405 405 405 405 405 405 405
healthz                      GET  200 200 200 200 200 200 200 200 200 200
healthz                      POST 405 405 405 405 405 405 405 405 405 405
metrics                      GET  404 404 404 404 404 404 404 404 404 404
metrics                      POST 405 405 405 405 405 405 405 405 405 405
people:sign-in               GET  200 200 200 200 200 200 200 200 200 200
people:sign-in               POST 200 200 200 200 200 200 200 200 200 200
people:code                  GET  302 302 302 302 302 302 302 302 302 302
people:code                  POST 302 302 302 302 302 302 302 302 302 302
people:staff-sign-in         GET  200 200 200 200 200 200 200 200 200 200
people:staff-sign-in         POST 200 200 200 200 200 200 200 200 200 200
people:come-in               GET  200 200 200 200 200 200 200 200 200 200
people:come-in               POST 200 200 200 200 200 200 200 200 200 200
people:confirm               GET  302 200 200 200 200 200 200 200 200 200
people:confirm               POST 302 302 302 302 302 302 302 302 302 302
people:sign-out              GET  405 405 405 405 405 405 405 405 405 405
people:sign-out              POST 302 302 302 302 302 302 302 302 302 302
people:classes               GET  302 200 200 200 302 302 302 200 200 200
people:classes               POST 302 405 405 405 405 405 405 405 405 405
people:roster                GET  302 404 404 404 404 404 404 200 200 404
people:roster                POST 302 405 405 405 405 405 405 405 405 405
people:invite                GET  302 405 405 405 405 405 405 405 405 405
people:invite                POST 302 404 404 404 404 404 404 200 200 404
people:revoke                GET  302 405 405 405 405 405 405 405 405 405
people:revoke                POST 302 404 404 404 404 404 404 302 302 404
tasks:plan-week              GET  302 404 404 404 200 200 404 200 404 404
tasks:plan-week              POST 302 405 405 405 405 405 405 405 405 405
tasks:plan-day               GET  302 404 404 404 200 200 404 200 404 404
tasks:plan-day               POST 302 405 405 405 405 405 405 405 405 405
tasks:plan-preview           GET  302 404 404 404 200 200 404 200 404 404
tasks:plan-preview           POST 302 405 405 405 405 405 405 405 405 405
tasks:plan-draft             GET  302 405 405 405 405 405 405 405 405 405
tasks:plan-draft             POST 302 404 404 404 200 404 404 200 404 404
tasks:plan-draft-like        GET  302 405 405 405 405 405 405 405 405 405
tasks:plan-draft-like        POST 302 404 404 404 302 404 404 302 404 404
tasks:plan-reword            GET  302 405 405 405 405 405 405 405 405 405
tasks:plan-reword            POST 302 404 404 404 302 404 404 302 404 404
tasks:plan-set               GET  302 405 405 405 405 405 405 405 405 405
tasks:plan-set               POST 302 404 404 404 200 404 404 200 404 404
tasks:plan-take-back         GET  302 405 405 405 405 405 405 405 405 405
tasks:plan-take-back         POST 302 404 404 404 302 404 404 302 404 404
tasks:plan-put-back          GET  302 405 405 405 405 405 405 405 405 405
tasks:plan-put-back          POST 302 404 404 404 302 404 404 302 404 404
tasks:part-add               GET  302 404 404 404 200 404 404 200 404 404
tasks:part-add               POST 302 404 404 404 200 404 404 200 404 404
tasks:part-change            GET  302 404 404 404 200 404 404 200 404 404
tasks:part-change            POST 302 404 404 404 200 404 404 200 404 404
tasks:part-reword            GET  302 404 404 404 200 404 404 200 404 404
tasks:part-reword            POST 302 404 404 404 200 404 404 200 404 404
tasks:part-redraw            GET  302 405 405 405 405 405 405 405 405 405
tasks:part-redraw            POST 302 404 404 404 302 404 404 302 404 404
tasks:prompt-redraw          GET  302 405 405 405 405 405 405 405 405 405
tasks:prompt-redraw          POST 302 404 404 404 302 404 404 302 404 404
tasks:part-lock              GET  302 405 405 405 405 405 405 405 405 405
tasks:part-lock              POST 302 404 404 404 302 404 404 302 404 404
tasks:part-for-group         GET  302 405 405 405 405 405 405 405 405 405
tasks:part-for-group         POST 302 404 404 404 302 404 404 302 404 404
tasks:part-remove            GET  302 405 405 405 405 405 405 405 405 405
tasks:part-remove            POST 302 404 404 404 302 404 404 302 404 404
tasks:print                  GET  302 404 404 404 200 200 404 200 404 404
tasks:print                  POST 302 405 405 405 405 405 405 405 405 405
tasks:print-pdf              GET  302 404 404 404 422 422 404 422 404 404
tasks:print-pdf              POST 302 405 405 405 405 405 405 405 405 405
tasks:today                  GET  302 200 200 200 200 200 200 200 200 200
tasks:today                  POST 302 405 405 405 405 405 405 405 405 405
tasks:card                   GET  302 200 200 404 404 404 404 404 404 404
tasks:card                   POST 302 405 405 405 405 405 405 405 405 405
tasks:card-print             GET  302 200 200 404 404 404 404 404 404 404
tasks:card-print             POST 302 405 405 405 405 405 405 405 405 405
evidence:send                GET  302 200 200 404 404 404 404 404 404 404
evidence:send                POST 302 422 422 404 404 404 404 404 404 404
evidence:sent                GET  302 200 200 200 200 200 200 200 200 200
evidence:sent                POST 302 405 405 405 405 405 405 405 405 405
evidence:submission          GET  302 200 404 404 404 404 404 404 404 404
evidence:submission          POST 302 405 405 405 405 405 405 405 405 405
evidence:send-more           GET  302 200 404 404 404 404 404 404 404 404
evidence:send-more           POST 302 422 404 404 404 404 404 404 404 404
evidence:withdraw            GET  302 405 405 405 405 405 405 405 405 405
evidence:withdraw            POST 302 302 404 404 404 404 404 404 404 404
evidence:piece-state         GET  302 200 404 404 200 200 404 200 404 404
evidence:piece-state         POST 302 405 405 405 405 405 405 405 405 405
evidence:piece-remove        GET  302 405 405 405 405 405 405 405 405 405
evidence:piece-remove        POST 302 302 404 404 404 404 404 404 404 404
evidence:piece               GET  302 200 404 404 200 200 404 200 404 404
evidence:piece               POST 302 405 405 405 405 405 405 405 405 405
assessment:queue             GET  302 404 404 404 200 200 404 200 404 404
assessment:queue             POST 302 405 405 405 405 405 405 405 405 405
assessment:look              GET  302 404 404 404 200 200 404 200 404 404
assessment:look              POST 302 404 404 404 422 422 404 422 404 404
assessment:undo              GET  302 405 405 405 405 405 405 405 405 405
assessment:undo              POST 302 404 404 404 302 302 404 302 404 404
assessment:take-back         GET  302 405 405 405 405 405 405 405 405 405
assessment:take-back         POST 302 404 404 404 302 302 404 302 404 404
assessment:child             GET  302 404 404 404 200 200 404 200 404 404
assessment:child             POST 302 405 405 405 405 405 405 405 405 405
assessment:evidence          GET  302 404 404 404 200 200 404 200 404 404
assessment:evidence          POST 302 405 405 405 405 405 405 405 405 405
assessment:goals             GET  302 404 404 404 200 200 404 200 404 404
assessment:goals             POST 302 405 405 405 405 405 405 405 405 405
assessment:goals-csv         GET  302 404 404 404 200 200 404 200 404 404
assessment:goals-csv         POST 302 405 405 405 405 405 405 405 405 405
assessment:class-this-week   GET  302 404 404 404 302 302 404 302 404 404
assessment:class-this-week   POST 302 405 405 405 405 405 405 405 405 405
assessment:class-week        GET  302 404 404 404 200 200 404 200 404 404
assessment:class-week        POST 302 405 405 405 405 405 405 405 405 405
assessment:this-week         GET  302 302 302 302 404 404 404 404 404 404
assessment:this-week         POST 302 405 405 405 405 405 405 405 405 405
assessment:week              GET  302 200 200 200 404 404 404 404 404 404
assessment:week              POST 302 405 405 405 405 405 405 405 405 405
assessment:child-week        GET  302 200 200 404 404 404 404 404 404 404
assessment:child-week        POST 302 405 405 405 405 405 405 405 405 405
assessment:stop-mail         GET  200 200 200 200 200 200 200 200 200 200
assessment:stop-mail         POST 200 200 200 200 200 200 200 200 200 200
"""


def policy() -> dict[tuple[str, str], list[int]]:
    """Give the answers expected of each (page, method), one for each role in turn."""
    rows = (line.split() for line in TABLE.split("\n") if line.strip())
    return {(name, method): [int(code) for code in codes] for name, method, *codes in rows}
