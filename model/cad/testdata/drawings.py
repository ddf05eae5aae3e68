# Writes the drawings beside it with ezdxf (Debian: python3-ezdxf), a writer of DXF that is not ours.
import ezdxf, math, sys
from ezdxf import units
def plate(ver, unit=4, scale=1.0):
    doc=ezdxf.new(ver)
    if ver!='R12': doc.header['$INSUNITS']=unit
    m=doc.modelspace()
    k=scale
    P=lambda x,y:(x*k,y*k)
    # outline: straight lines with a gap of 0.3 mm and two rounded corners
    m.add_line(P(0,0),P(100,0)); m.add_line(P(100,0),P(100,190)); m.add_arc(P(90,190),10*k,0,90); m.add_line(P(90,200),P(0.3,200)); m.add_line(P(0,200),P(0,0))
    # a hole as a circle, one as 36 straight pieces, one as 72, one as two arcs that differ by rounding
    m.add_circle(P(20,20),4.2*k)
    def ngon(cx,cy,r,n): return [P(cx+r*math.cos(2*math.pi*i/n),cy+r*math.sin(2*math.pi*i/n)) for i in range(n)]
    if ver=='R12':
        m.add_polyline2d(ngon(50,20,4.2,36),close=True)
        m.add_polyline2d(ngon(80,20,4.2,72),close=True)
    else:
        m.add_lwpolyline(ngon(50,20,4.2,36),close=True)
        m.add_lwpolyline(ngon(80,20,4.2,72),close=True)
    m.add_arc(P(20.012,60),4.2*k,0,180); m.add_arc(P(19.988,60),4.2*k,180,360)
    # a slot whose ends are 18 straight pieces each
    pts=[P(40+6*0+4.2*math.cos(a),100+4.2*math.sin(a)) for a in [math.pi/2+math.pi*i/18 for i in range(19)]]+[P(70+4.2*math.cos(a),100+4.2*math.sin(a)) for a in [-math.pi/2+math.pi*i/18 for i in range(19)]]
    (m.add_polyline2d if ver=='R12' else m.add_lwpolyline)(pts,close=True)
    if ver!='R12':
        # a circle as a rational spline, and a lightening hole with a spline edge
        from ezdxf.math import rational_bspline_from_arc
        s=rational_bspline_from_arc(center=P(80,60),radius=4.2*k,start_angle=0,end_angle=360)
        e=m.add_spline(); e.apply_construction_tool(s)
        e=m.add_spline(); e.apply_construction_tool(__import__("ezdxf").math.closed_uniform_bspline([P(30,140),P(70,140),P(70,180),P(30,180)]))
    return doc
d=plate('R12'); d.saveas('r12.dxf')
d=plate('R2000'); d.saveas('r2000.dxf'); d.saveas('r2000-binary.dxf',fmt='bin')

d=plate('R12'); d.saveas('r12-binary.dxf',fmt='bin')
d=plate('R2000',scale=1/25.4); d.header['$INSUNITS']=4; d.saveas('inches-as-mm.dxf')
