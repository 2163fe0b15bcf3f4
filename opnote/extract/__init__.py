"""Stage 4: a talk -> facts, each tied to a thing of the operation and to the words it came from.

How a value finds its thing:

1. A *scene* (``scene.py``) is one statement with what may be used of it: terms and quantities that were done or are planned, and were not
   taken back. With it comes the *focus* (``focus.py``): the bone, ligament, examination or implant that the talk is about by then.
2. The *linker* (``linker.py``) asks of each quantity which attribute it fills. Every attribute of ``lexicons/attributes`` that takes such
   a quantity is a candidate and gets a *score* (``score.py``): for its cue words nearby, for the thing being brought up here or before, for
   a plausible value, against words that make it something else. How much each counts stands in ``weights.py``. The best one wins only if
   it is good enough and clearly leads; a close race is left open, for a missing value is asked about and a wrong one is believed.
   ``neighbours.py`` settles some of those by the quantity beside them, ``bench.py`` what is called out while a graft is prepared.
3. Each kind of thing then gathers its *slots* in the statement: the quantities that the linker gave it, and the terms of its vocabularies
   where they are said of it (``grafts.py``, ``tunnels.py``, ``implants.py``; ``things.py`` for those that need only the tables). The slots
   are dealt, in the order said, to *frames* (``frames.py``): a second diameter begins the second tunnel. ``places.py`` lends a frame
   its bone and ligament: the nearest named, else those in focus.
4. Examinations, procedures, events, aftercare, people and the fields of the case have modules of their own, for they are told by their
   grammar more than by scores.
5. With the whole talk read, ``topics.py`` joins what goes on from statement to statement ("lot K four one" a sentence after its screw) and
   drops what was given up; ``repeats.py`` gives what was said to be the same as of the thing before; ``kinds.py`` fills in what the talk as
   a whole tells, as the only ligament worked on. What is lent, not said, is marked as inherited, and the record lets a said value overrule
   it.

What may be edited is data: the kinds of thing stand in ``lexicons/attributes/things.toml``, the words that rules look for in
``lexicons/words``; only values that a rule is about ("anchor", "time out") are named in code. ``opnote trace`` shows every candidate
with the parts of its score.
"""
