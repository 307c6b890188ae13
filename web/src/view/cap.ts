// cap.ts - makes a body that was cut open look solid: where the inside of its far side shows, the cut is drawn instead.
//
// Along a line of sight that meets the cut inside the body, the first thing seen is the back of a face. It is painted
// with one flat color and moved, in depth only, to where the line of sight meets the cut. So nothing that lies behind
// the cut shines through, and no polygon of the cut has to be computed.
import { BackSide, Color, Matrix4, MeshBasicMaterial, type Plane } from "three";

const DEPTH = /* glsl */ `
  #include <clipping_planes_fragment>
  #if NUM_CLIPPING_PLANES > 0
    vec4 cutAt = clippingPlanes[0];
    float z = abs(cutAt.z) > 0.0001 ? (cutAt.w - dot(vClipPosition.xy, cutAt.xy)) / cutAt.z : vClipPosition.z;
    z = min(z, vClipPosition.z); // never behind what is really there
    gl_FragDepth = clamp(0.5 * (eye[3][2] - eye[2][2] * z) + 0.5, 0.0, 1.0);
  #endif
`;

export interface Cap {
  material: MeshBasicMaterial;
  color(c: Color): void;
}

export function createCap(projection: Matrix4, planes: Plane[]): Cap {
  const material = new MeshBasicMaterial({ side: BackSide, clippingPlanes: planes });
  material.onBeforeCompile = (shader) => {
    shader.uniforms["eye"] = { value: projection };
    shader.fragmentShader = `uniform mat4 eye;\n${shader.fragmentShader}`.replace(
      "#include <clipping_planes_fragment>",
      DEPTH,
    );
  };
  material.customProgramCacheKey = () => "cap";
  return { material, color: (c) => void material.color.copy(c).multiplyScalar(0.62) };
}
