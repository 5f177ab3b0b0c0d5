"""Questions asked of a simulation, one file each: a circuit goes in, a record of figures comes out. Nothing prints.

Every figure is predicted. Pressures are absolute Pa, times s, volumes m3, unless a name says otherwise.
"""
